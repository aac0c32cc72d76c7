/**
 * Just intervals above a root, by degree: ratios of small numbers, which ring. A table of facts: the
 * five-limit scale of twelve notes after A. Malcolm, 1721 (0 112 204 316 386 498 590 702 814 884 996 1088 cents),
 * in which a major triad is 4 : 5 : 6 and a minor one 10 : 12 : 15, and what differs from it by degree.
 */
import { degreeChroma } from '$lib/theory/degrees';

export type Ratio = readonly [over: number, under: number];

/** By semitones above the root. */
export const FIVE_LIMIT: readonly Ratio[] = [
  [1, 1],
  [16, 15],
  [9, 8],
  [6, 5],
  [5, 4],
  [4, 3],
  [45, 32],
  [3, 2],
  [8, 5],
  [5, 3],
  [16, 9],
  [15, 8],
];
const BY_DEGREE: Readonly<Record<string, Ratio>> = {
  // the fifth of the triad on the leading note: 15/8, 9/4, 8/3
  b5: [64, 45],
  // two pure major thirds
  '#5': [25, 16],
};

/** The minor sevenths that a player can choose, the usual one first. */
export const SEVENTHS = ['16/9', '9/5', '7/4'] as const;
/**
 * The minor seventh of a dominant chord: two fourths (16/9), a minor third over the fifth (9/5), or the
 * seventh partial (7/4), which rings most and lies farthest from the frets. Over a minor third it is
 * always 9/5, a pure fifth above it.
 */
export type Seventh = (typeof SEVENTHS)[number];
const SEVENTH_RATIO: Readonly<Record<Seventh, Ratio>> = {
  '16/9': [16, 9],
  '9/5': [9, 5],
  '7/4': [7, 4],
};

/** The ratio of a degree above its root, within the octave; `all` are the degrees of its chord. */
export function justRatio(
  degree: string,
  all: readonly string[],
  seventh: Seventh = '16/9',
): Ratio {
  if (degree === 'b7') return all.includes('b3') ? [9, 5] : SEVENTH_RATIO[seventh];
  return BY_DEGREE[degree] ?? FIVE_LIMIT[degreeChroma(degree)] ?? [1, 1];
}

/** Cents of a ratio. */
export const centsOf = ([over, under]: Ratio): number => 1200 * Math.log2(over / under);

/** How far a just degree lies from the tempered one: −13.686 for a major third. */
export const justOffset = (
  degree: string,
  all: readonly string[],
  seventh: Seventh = '16/9',
): number => centsOf(justRatio(degree, all, seventh)) - 100 * degreeChroma(degree);

const divisor = (a: number, b: number): number => (b === 0 ? a : divisor(b, a % b));

/** The ratio of two frequencies about `semitones` apart whose degrees have these ratios, reduced. */
export function intervalRatio(low: Ratio, high: Ratio, semitones: number): Ratio {
  const over = high[0] * low[1];
  const under = high[1] * low[0];
  const octaves = Math.round((100 * semitones - centsOf([over, under])) / 1200);
  const [a, b] = octaves >= 0 ? [over * 2 ** octaves, under] : [over, under * 2 ** -octaves];
  const common = divisor(a, b);
  return [a / common, b / common];
}
