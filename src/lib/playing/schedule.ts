/** When each string of a grip is struck. Pure: seconds from the start, no clock and no sound. */
import type { Midi } from '$lib/theory/pitch';

/** What moves a string's pitch: a control at the changer, or the bar along the neck. */
export type Mover = 'pull' | 'bar';

/** How a grip is struck, the usual way first. */
export const MANNERS = ['together', 'rolled', 'one by one'] as const;
export type Manner = (typeof MANNERS)[number];

export interface PickedPitch {
  /** From 1; 0 is the soft bass under the strings. */
  readonly string: number;
  /** In semitones; a fraction is cents. */
  readonly midi: Midi;
  /** Seconds in which the string falls by 60 dB at this pitch; as is usual for the pitch where left out. */
  readonly falls?: number;
}

/** A ringing string on its way to another pitch: a control pressed or let go, or the bar moved. */
export interface Glide {
  /** Seconds after the start of the whole schedule. */
  readonly at: number;
  /** Seconds that the way takes; 0 is at once. */
  readonly over: number;
  readonly to: Midi;
  /** What moves it; a pull where left out. */
  readonly by?: Mover;
}

export interface ScheduledNote extends PickedPitch {
  /** Seconds after the start. */
  readonly at: number;
  /** Seconds until the string is damped. */
  readonly duration: number;
  /** In order of time, none before the one before it has arrived. */
  readonly glides?: readonly Glide[];
  /** How hard it is struck, 0 … 1; 1 where left out. */
  readonly level?: number;
  /** Seconds in which the pedal brings it up to what a full stroke would be; it is not brought up where left out. */
  readonly swells?: number;
  /** A palm harmonic: it sounds an octave above its pitch. */
  readonly harmonic?: boolean;
}

/** Seconds between the strings. Rolled is one sweep of thumb and fingers. */
const APART: Readonly<Record<Manner, number>> = { together: 0, rolled: 0.045, 'one by one': 0.45 };
/** Seconds that the last string rings, and what hands move at the least. */
export const RINGS = 4;

/** A grip from its lowest pitch to its highest; all strings are damped at the same moment. */
export function notesOf(pitches: readonly PickedPitch[], manner: Manner): ScheduledNote[] {
  const lowToHigh = [...pitches].sort((a, b) => a.midi - b.midi || b.string - a.string);
  const end = APART[manner] * Math.max(0, lowToHigh.length - 1) + RINGS;
  return lowToHigh.map((pitch, index) => {
    const at = APART[manner] * index;
    return { ...pitch, at, duration: end - at };
  });
}

/** Seconds from the start until everything is damped. */
export const lengthOf = (notes: readonly ScheduledNote[]): number =>
  Math.max(0, ...notes.map(({ at, duration }) => at + duration));

/**
 * The same notes once hands have moved some strings at a time: those that ring, and are not struck
 * again, are held on.
 */
export function heldOn(
  notes: readonly ScheduledNote[],
  strings: ReadonlySet<number>,
  at: number,
): ScheduledNote[] {
  const until = at + RINGS;
  return notes.map((note) => {
    const end = note.at + note.duration;
    const again = notes.some((other) => other.string === note.string && other.at > note.at);
    if (!strings.has(note.string) || again || end < at || end >= until) return note;
    return { ...note, duration: until - note.at };
  });
}

/** Seconds that a control takes from stop to stop, and the bar from fret to fret; the usual one first. */
export const BEND_SECONDS = { usual: 0.09, quick: 0.06, slow: 0.12 } as const;

/** Seconds that the bar takes over a number of frets, for a hand as quick as the foot: longer ways take longer. */
export const slideSeconds = (frets: number, over: number = BEND_SECONDS.usual): number =>
  Math.min(0.6, over * (1 + frets / 3));

/** A soft bass: the octave of a root that lies below the lowest pitch, and not below E1. */
export function withBass(pitches: readonly PickedPitch[], root: Midi): PickedPitch[] {
  if (pitches.length === 0) return [];
  const lowest = Math.min(...pitches.map(({ midi }) => midi));
  const below = lowest - root;
  let midi = root + 12 * Math.floor(below / 12);
  if (midi === lowest) midi -= 12;
  while (midi < LOWEST_BASS) midi += 12;
  return midi < lowest ? [...pitches, { string: BASS, midi }] : [...pitches];
}

/** The number of the bass among the strings. */
export const BASS = 0;
/** E1: what a bass goes down to. */
const LOWEST_BASS = 28;
/** The bass supports; it does not lead. */
const BASS_LEVEL = 0.5;

/** Struck as asked: the bass always softly, everything as palm harmonics where wanted. */
export const struckAs = (
  notes: readonly ScheduledNote[],
  { harmonics = false }: { readonly harmonics?: boolean } = {},
): ScheduledNote[] =>
  notes.map((note) => ({
    ...note,
    ...(note.string === BASS ? { level: BASS_LEVEL } : {}),
    ...(harmonics && note.string !== BASS ? { harmonic: true } : {}),
  }));
