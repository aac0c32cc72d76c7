/** When each string of a grip is struck. Pure: seconds from the start, no clock and no sound. */
import type { Midi } from '$lib/theory/pitch';

export const MANNERS = ['together', 'rolled', 'one by one'] as const;
export type Manner = (typeof MANNERS)[number];

export interface PickedPitch {
  /** From 1. */
  readonly string: number;
  readonly midi: Midi;
}

/** A ringing string on its way to another pitch: a control pressed or let go, or the bar moved. */
export interface Glide {
  /** Seconds after the start of the whole schedule. */
  readonly at: number;
  /** Seconds that the way takes; 0 is at once. */
  readonly over: number;
  readonly to: Midi;
}

export interface ScheduledNote extends PickedPitch {
  /** Seconds after the start. */
  readonly at: number;
  /** Seconds until the string is damped. */
  readonly duration: number;
  /** In order of time, none before the one before it has arrived. */
  readonly glides?: readonly Glide[];
}

/** Seconds between the strings. Rolled is one sweep of thumb and fingers. */
const APART: Readonly<Record<Manner, number>> = { together: 0, rolled: 0.045, 'one by one': 0.45 };
/** Seconds that the last string rings. */
const RINGS = 3;

/** A grip from its lowest pitch to its highest; all strings are damped at the same moment. */
export function notesOf(pitches: readonly PickedPitch[], manner: Manner): ScheduledNote[] {
  const lowToHigh = [...pitches].sort((a, b) => a.midi - b.midi || b.string - a.string);
  const end = APART[manner] * Math.max(0, lowToHigh.length - 1) + RINGS;
  return lowToHigh.map((pitch, place) => {
    const at = APART[manner] * place;
    return { ...pitch, at, duration: end - at };
  });
}

/** Seconds from the start until everything is damped. */
export const lengthOf = (notes: readonly ScheduledNote[]): number =>
  Math.max(0, ...notes.map(({ at, duration }) => at + duration));
