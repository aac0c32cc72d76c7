/** A voicing as a player reads it. */
import { transpose, type PcSet } from '$lib/theory/pcset';
import type { Midi } from '$lib/theory/pitch';
import type { Choice } from '$lib/setup/reach';
import { waysLike } from './combinations';
import { slantAt, type WantedSet } from './find';
import type { NutIndex } from './nutIndex';

export interface Voicing {
  /** From 1. */
  readonly neck: number;
  /** Where the bar lies; under a slanted bar, where it stops the grip's nearest string. */
  readonly fret: number;
  /** Frets by which the bar's far end is ahead (behind where negative); 0 is straight. */
  readonly slant: number;
  /** From 1, ascending. */
  readonly strings: readonly number[];
  /** The fret at each of the strings. */
  readonly frets: readonly number[];
  /** The pitch of each of the strings. */
  readonly pitches: readonly Midi[];
  readonly pitchClasses: PcSet;
  /** Degrees of the wanted chord that it lacks. */
  readonly missing: readonly string[];
  /** Cheapest first; the first is the one to show. */
  readonly ways: readonly Choice[];
}

/** The strings of a grip, string s (from 0) in bit s, as players number them. */
export const stringsIn = (grip: number): number[] => {
  const strings: number[] = [];
  for (let s = 0; grip >> s !== 0; s++) if (grip & (1 << s)) strings.push(s + 1);
  return strings;
};

/** Voicing number `voicing` of an index with the bar at a fret. */
export function voicingAt(
  index: NutIndex,
  voicing: number,
  fret: number,
  sets: readonly WantedSet[] = [],
): Voicing {
  const { on, open } = index;
  const grip = index.grip[voicing] ?? 0;
  const combination = index.combination[voicing] ?? 0;
  const strings = stringsIn(grip);
  const slanted = slantAt(index, voicing);
  const frets = strings.map((_, stop) => fret + (slanted?.ahead[stop] ?? 0));
  const pitches = strings.map(
    (string, stop) =>
      (open[string - 1] ?? 0) +
      (on.moves[combination * on.strings + string - 1] ?? 0) +
      (frets[stop] ?? 0),
  );
  const pitchClasses = pitches.reduce((set, pitch) => set | transpose(1, pitch), 0);
  return {
    neck: on.neck,
    fret,
    slant: slanted?.slant ?? 0,
    strings,
    frets,
    pitches,
    pitchClasses,
    missing: sets.find(({ set }) => set === pitchClasses)?.missing ?? [],
    ways: waysLike(on, combination, grip),
  };
}
