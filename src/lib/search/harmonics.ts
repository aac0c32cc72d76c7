/**
 * Harmonics over the bar: a string that is touched with palm or finger at a node of what sounds of it gives a
 * partial. Touched at a half it gives the octave, at a third the twelfth (an octave and a fifth), at a quarter two
 * octaves. These nodes lie 12, 7 and 5 frets beyond the bar: 12·log2 of 2, 3/2 and 4/3 is 12, 7.02 and 4.98.
 */
import type { Setup } from '$lib/setup/setup';
import type { Midi } from '$lib/theory/pitch';
import { fretsAheadOf, pitchesOf, type Hold } from './hold';

/** Harmonics that players use: frets from the bar to where a string is touched, and semitones that it rises. */
export const HARMONICS = [
  { name: 'octave', frets: 12, semitones: 12 },
  { name: 'twelfth', frets: 7, semitones: 19 },
  { name: 'two octaves', frets: 5, semitones: 24 },
] as const;

/** One of `HARMONICS`. */
export type Harmonic = (typeof HARMONICS)[number];

/** A string that is touched. */
export interface TouchedString {
  /** From 1. */
  readonly string: number;
  /** Where it is touched, in frets from the nut; beyond the last fret it is found by ear and eye. */
  readonly touch: number;
  /** What it sounds. */
  readonly pitch: Midi;
}

/** A grip played as a harmonic. */
export interface TouchedGrip {
  readonly harmonic: Harmonic;
  /** In the order of the grip. */
  readonly strings: readonly TouchedString[];
  /** All of it is touched within the frets of the neck. */
  readonly isOnNeck: boolean;
}

/** A hold as each of the harmonics; where the bar is slanted, each string is touched beyond its own fret. */
export function harmonicsOf(setup: Setup, hold: Hold): TouchedGrip[] {
  const pitches = pitchesOf(setup, hold);
  const ahead = fretsAheadOf(hold);
  return HARMONICS.map((harmonic) => {
    const strings = hold.strings.map((string, at): TouchedString => ({
      string,
      touch: hold.fret + (ahead?.[at] ?? 0) + harmonic.frets,
      pitch: (pitches[at] ?? 0) + harmonic.semitones,
    }));
    return { harmonic, strings, isOnNeck: strings.every(({ touch }) => touch <= setup.frets) };
  });
}
