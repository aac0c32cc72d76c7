/**
 * A string's own channel in MIDI, so that it bends by itself: MIDI Polyphonic Expression, version 1.0 of the
 * MIDI Manufacturers Association (RP-053). One zone, the lower one: the first channel speaks for the whole
 * instrument, and those after it for a string each. Channels are counted from 0, as in the bytes.
 */
import type { Midi } from '$lib/theory/pitch';

/** The channel that speaks for all strings of the lower zone. */
export const MASTER = 0;
/** Where a receiver that knows no MPE has drums (General MIDI 1). */
const DRUMS = 9;
/** The channels of strings, in the order in which they are given: that of the drums is the last resort. */
const MEMBERS: readonly number[] = [1, 2, 3, 4, 5, 6, 7, 8, 10, 11, 12, 13, 14, 15, DRUMS];
/** Strings that can have a channel of their own. */
export const MOST_STRINGS = MEMBERS.length;

/**
 * By string its channel, 0 to 15.
 *
 * @param strings at most `MOST_STRINGS`, in the order in which they get their channels; more are an error
 */
export function channelsOf(strings: readonly number[]): ReadonlyMap<number, number> {
  if (strings.length > MOST_STRINGS)
    throw new Error(
      `${String(strings.length)} strings have no channels in MIDI, ${String(MOST_STRINGS)} have`,
    );
  return new Map(strings.map((string, at) => [string, MEMBERS[at] ?? DRUMS]));
}

/** A control change: which controller, and to what, both 0 to 127. */
export type ControlChange = readonly [controller: number, value: number];

/** Lets go of the registered parameter, so that no later data entry changes it (MIDI 1.0). */
const LET_GO: readonly ControlChange[] = [
  [101, 127],
  [100, 127],
];

/**
 * Says that the first channel and so many after it are one instrument: registered parameter 6, sent to the
 * first channel. It sets the bend ranges of the zone anew, so it goes before `bendRange`.
 *
 * @param members channels behind the first, 1 to 15; with 0 the zone is given up
 */
export const zone = (members: number): readonly ControlChange[] => [
  [101, 0],
  [100, 6],
  [6, members],
  ...LET_GO,
];

/** Says how many semitones the bend wheel reaches each way, 0 to 96: registered parameter 0. */
export const bendRange = (semitones: number): readonly ControlChange[] => [
  [101, 0],
  [100, 0],
  [6, semitones],
  [38, 0],
  ...LET_GO,
];

/** How many channels behind the first a zone needs for these. */
export const membersFor = (channels: Iterable<number>): number => Math.max(0, ...channels);

/** A bend by so many semitones as the wheel stands, −8192 to 8191; what is beyond its range stops there. */
export const bendOf = (semitones: Midi, range: number): number =>
  Math.max(-8192, Math.min(8191, Math.round((semitones / range) * 8192)));

/** How hard a string is struck that is struck as usual. */
const VELOCITY = 88;

/**
 * The velocity of a stroke, 1 to 127: loudness goes with its square (General MIDI 1), and 0 would end the note.
 *
 * @param level 0 to 1
 */
export const velocityOf = (level: number): number =>
  Math.max(1, Math.min(127, Math.round(VELOCITY * Math.sqrt(level))));
