/**
 * How far the voices of one sonority go to become those of another: the least sum of semitones, in
 * pitch (not pitch-class) space, as Tymoczko 2006 measures it ("taxicab"). Where the sonorities differ
 * in size, every voice of the larger goes to one of the smaller and none of the smaller is left without
 * one: the same as doubling voices of the smaller.
 */
import type { Midi } from './pitch';

/**
 * Semitones between two sonorities, each ascending and not empty. On a line nothing is gained by voices
 * that cross, so only the ways that keep their order are compared.
 */
export function voiceLeading(a: readonly Midi[], b: readonly Midi[]): number {
  const [few, many] = a.length <= b.length ? [a, b] : [b, a];
  // sums[j]: the least sum for the voices of `many` so far, when the last of them went to voice j
  let sums = new Array<number>(few.length).fill(Infinity);
  many.forEach((voice, index) => {
    sums = few.map((goal, j) => {
      const before = index === 0 ? (j === 0 ? 0 : Infinity) : least(sums[j], sums[j - 1]);
      return before + Math.abs(goal - voice);
    });
  });
  return sums.at(-1) ?? 0;
}

const least = (a = Infinity, b = Infinity): number => Math.min(a, b);
