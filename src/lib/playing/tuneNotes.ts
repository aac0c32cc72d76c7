/**
 * A tune as it is played in time: strings struck, pulled, slid and blocked, in seconds from the start. Pure.
 *
 * A string that is struck again is separated from what it sounded before, unless the tune is slurred there; one
 * that no later note or chord wants is blocked where that begins, and where a rest begins all are.
 */
import { soundsAbove, type StruckStep } from '$lib/arrange/strike';
import type { TuneStep } from '$lib/arrange/tune';
import type { Setup } from '$lib/setup/setup';
import { withFalls } from '$lib/strings/sustain';
import { heardPitches } from '$lib/tuning/heard';
import {
  BEND_SECONDS,
  slideSeconds,
  type Glide,
  type PickedPitch,
  type ScheduledNote,
} from './schedule';

/** Seconds of silence before a string is struck again, as for chords. */
const BLOCKED = 0.03;
/** Of a note that is slurred into the next on its string: as short as a stroke takes. */
const SLURRED = 0.005;
/** No note is heard in less. */
const LEAST = 0.03;
/** Seconds from string to string where three or more are struck. */
const APART = 0.045;
/** The same where a roll is asked for; all of it takes no more than this part of the note. */
const ROLLED = 0.09;
const ROLL_MOST = 0.3;
/** How hard a pad is struck, for the pedal to open: 12 dB softer. */
const PAD_LEVEL = 0.25;
/** Seconds in which a pad swells: half of its note, and no more than a slow foot takes. */
const SWELL_MOST = 2;
const swellOf = ({ onset }: TuneStep): number => Math.min(SWELL_MOST, onset.lastsSeconds / 2);
/** The quickest that hands and feet get anywhere. */
const LEAST_GLIDE = 0.01;
/** Seconds that the last of it rings after its time. */
const RINGS_AFTER = 1.5;

interface Ringing extends PickedPitch {
  readonly at: number;
  readonly glides: Glide[];
  readonly level?: number;
  readonly swells?: number;
  readonly harmonic?: boolean;
}

/** A step as it was solved, or as it is struck. */
type Struck = TuneStep & Partial<Pick<StruckStep, 'strike'>>;

/** Seconds from string to string of so many that are struck together. */
function apartOf({ strike, onset }: Struck, struck: number, usual: number): number {
  if (strike === 'rolled')
    return Math.min(ROLLED, (onset.lastsSeconds * ROLL_MOST) / Math.max(1, struck - 1));
  // two strings are plucked at once, a wider grip is a small roll
  return strike !== undefined || struck <= 2 ? 0 : usual;
}

/** How a tune is laid out in time. */
interface Layout {
  readonly steps: readonly Struck[];
  /** By string of a step's `strings`. */
  readonly pitchesOf: (step: TuneStep) => readonly PickedPitch[];
  /** Pitches are what sounds, and not what is struck as a harmonic. */
  readonly asWritten: boolean;
  /** Seconds from string to string of what is struck together. */
  readonly apart: number;
}

function layOut({ steps, pitchesOf, apart, asWritten }: Layout): ScheduledNote[] {
  const notes: ScheduledNote[] = [];
  let ringing = new Map<number, Ringing>();
  const block = ({ glides, ...note }: Ringing, at: number): void => {
    const duration = Math.max(LEAST, at - note.at);
    notes.push({ ...note, duration, ...(glides.length === 0 ? {} : { glides }) });
  };
  steps.forEach((step, index) => {
    const before = steps[index - 1];
    const { seconds: starts } = step.onset;
    const ended = before && before.onset.seconds + before.onset.lastsSeconds;
    const above = soundsAbove(step);
    const raised = pitchesOf(step).map((each) =>
      // what is struck as a harmonic sounds an octave above its pitch
      ({ ...each, midi: each.midi + (above > 0 && !asWritten ? above - 12 : above) }),
    );
    const pitches = raised.sort((a, b) => a.midi - b.midi || b.string - a.string);
    const struck = step.strings.filter(({ reached }) => reached === 'picked').length;
    const next = new Map<number, Ringing>();
    let stroke = 0;
    for (const pitch of pitches) {
      const { string, midi } = pitch;
      const reached = step.strings.find((each) => each.string === string)?.reached;
      const sounds = ringing.get(string);
      if (reached === 'picked' || sounds === undefined) {
        const at = starts + apartOf(step, struck, apart) * stroke++;
        const pad = step.strike === 'pad' ? { level: PAD_LEVEL, swells: swellOf(step) } : {};
        const harmonic = above > 0 && !asWritten ? { harmonic: true } : {};
        next.set(string, { ...pitch, ...pad, ...harmonic, at, glides: [] });
        continue;
      }
      next.set(string, sounds);
      if (reached === 'rings') continue;
      const frets = Math.abs((before?.hold.fret ?? 0) - step.hold.fret);
      const usual = reached === 'slide' ? slideSeconds(frets) : BEND_SECONDS.usual;
      const earliest = (sounds.glides.at(-1)?.at ?? sounds.at) + LEAST_GLIDE;
      // hands and feet arrive with the note, and leave the one before half of its time at least
      const half = starts - (starts - (before?.onset.seconds ?? 0)) / 2;
      const leaves = Math.max(earliest, half, starts - usual);
      const by = reached === 'slide' ? 'bar' : 'pull';
      sounds.glides.push({ at: leaves, over: Math.max(0, starts - leaves), to: midi, by });
    }
    for (const [string, one] of ringing) {
      if (next.get(string) === one) continue;
      const silence = before?.onset.slurred === true ? SLURRED : BLOCKED;
      const until = next.has(string) ? starts - silence : starts;
      block(one, Math.min(ended ?? until, until));
    }
    ringing = next;
  });
  const last = steps.at(-1);
  // what is struck short ends short
  const rings = last?.strike === 'chop' ? 0 : RINGS_AFTER;
  const end = last === undefined ? 0 : last.onset.seconds + last.onset.lastsSeconds + rings;
  for (const one of ringing.values()) block(one, end);
  return notes.sort((a, b) => a.at - b.at);
}

/** As it is written: in equal temperament, what sounds together struck at once. */
export const writtenTune = (steps: readonly Struck[]): readonly ScheduledNote[] =>
  layOut({
    steps,
    apart: 0,
    asWritten: true,
    pitchesOf: ({ strings }) => strings.map(({ string, pitch }) => ({ string, midi: pitch })),
  });

/** As it is heard: as the setup is tuned, chords rolled a little. */
export const heardTune = (setup: Setup, steps: readonly Struck[]): readonly ScheduledNote[] =>
  layOut({
    steps,
    apart: APART,
    asWritten: false,
    pitchesOf: ({ hold, strings }) => {
      const all = strings.map(({ string }) => string);
      return withFalls(setup, hold.neck, heardPitches(setup, { ...hold, strings: all }));
    },
  });
