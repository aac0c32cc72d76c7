/**
 * Sets of pitch classes as twelve-bit numbers: bit c stands for chroma c, C in the lowest bit.
 * (The theory library writes its set numbers the other way round; nobody here reads them:
 * `chordTypes` goes by its intervals.)
 */
import { chromaOf, type Chroma } from './pitch';

/** 0 (empty) to 4095 (all twelve). */
export type PcSet = number;

/** All twelve. */
export const ALL: PcSet = 0xfff;

/** The set of some pitch classes, or of pitches in semitones, in any octave and as often as they come. */
export function pcSetOf(chromas: Iterable<number>): PcSet {
  let set = 0;
  for (const chroma of chromas) set |= 1 << chromaOf(chroma);
  return set;
}

/** The members, ascending from C. */
export function chromasIn(set: PcSet): Chroma[] {
  const chromas: Chroma[] = [];
  for (let chroma = 0; chroma < 12; chroma++) if (set & (1 << chroma)) chromas.push(chroma);
  return chromas;
}

/** Is a chroma (0 … 11) in the set? */
export const has = (set: PcSet, chroma: Chroma): boolean => (set & (1 << chroma)) !== 0;

/** Every member moved up by a number of semitones (any whole number). */
export function transpose(set: PcSet, semitones: number): PcSet {
  const up = chromaOf(semitones);
  return ((set << up) | (set >> (12 - up))) & ALL;
}

/** How many pitch classes a set holds. */
export function sizeOf(set: PcSet): number {
  let count = 0;
  for (let rest = set; rest !== 0; rest &= rest - 1) count++;
  return count;
}
