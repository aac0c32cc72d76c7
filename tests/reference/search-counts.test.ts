import { describe, expect, it } from 'vitest';
import { builtIn } from '$lib/setup/builtIns';
import { readSetup } from '$lib/setup/readSetup';
import type { Setup } from '$lib/setup/setup';
import { compile } from '$lib/engine/instrument';
import { answer } from '$lib/answers/answer';
import { question } from '../unit/search/asking';

/** A neck of n strings and nothing that moves them. */
function bare(strings: number): Setup {
  const read = readSetup({
    format: 1,
    name: `${strings} strings`,
    necks: [{ name: 'n', strings: Array.from({ length: strings }, () => ({ open: 'C4' })) }],
    controls: [],
  });
  if (!read.ok) throw new Error(JSON.stringify(read.error));
  return read.value;
}

/** The grips that the index of a bare neck holds, each as its strings. */
function grips(strings: number, sizes: readonly [number, number]): number[][] {
  const index = compile(bare(strings)).index(1, { sizes, slants: false });
  return Array.from({ length: index.count }, (_, voicing) =>
    Array.from({ length: strings }, (__, s) => s + 1).filter(
      (string) => (index.grip[voicing] ?? 0) & (1 << (string - 1)),
    ),
  );
}

describe('on a neck without controls every choice of strings is one voicing at the nut', () => {
  // C(n, k), computed; e.g. C(10, 3) = 120
  it.each([
    [10, 2, 45],
    [10, 3, 120],
    [10, 4, 210],
    [10, 5, 252],
    [11, 2, 55],
    [11, 3, 165],
    [11, 4, 330],
    [11, 5, 462],
    [12, 2, 66],
    [12, 3, 220],
    [12, 4, 495],
    [12, 5, 792],
    [14, 6, 3003],
    [6, 6, 1],
    [5, 6, 0],
  ])('%i strings, grips of %i: %i', (n, k, count) => {
    const found = grips(n, [k, k]);
    expect(found).toHaveLength(count);
    expect(new Set(found.map((grip) => grip.join())).size).toBe(count);
    for (const grip of found) expect(grip).toHaveLength(k);
  });

  // sums of C(n, 2) … C(n, 4)
  it.each([
    [10, 375],
    [11, 550],
    [12, 781],
  ])('%i strings, grips of two to four: %i', (n, count) => {
    expect(grips(n, [2, 4])).toHaveLength(count);
  });

  // k-subsets of n strings within w neighbouring ones: (n − w + 1) · C(w − 1, k − 1) + C(w − 1, k)
  it.each([
    [10, 4, [24, 22, 7]],
    [10, 5, [30, 40, 25]],
    [10, 6, [35, 60, 55]],
    [10, 7, [39, 80, 95]],
    [10, 8, [42, 98, 140]],
    [12, 5, [38, 52, 33]],
    [12, 6, [45, 80, 75]],
    [12, 7, [51, 110, 135]],
    [12, 8, [56, 140, 210]],
  ] as const)('%i strings, within %i neighbours: %j grips of two, three, four', (n, w, counts) => {
    [2, 3, 4].forEach((k, place) => {
      const within = grips(n, [k, k]).filter((grip) => (grip.at(-1) ?? 0) - (grip[0] ?? 0) < w);
      expect(within).toHaveLength(counts[place] ?? NaN);
    });
  });
});

describe('the search says how much ground it covered', () => {
  // combinations × frets × grips: 0 to 24 are 25 frets, C(10, 3) + C(10, 4) = 330 grips
  it.each([
    ['e9', 96, 96 * 25 * 330],
    ['c6', 60, 60 * 25 * 330],
    ['double', 256, 2 * 256 * 25 * 330],
    ['universal12', 168, 168 * 25 * (220 + 495)],
    ['lap6-c6', 1, 25 * (20 + 15)],
  ] as const)('%s: %i combinations and %i candidates', (id, combinations, candidates) => {
    const setup = builtIn(id);
    expect(setup.frets).toBe(24);
    expect(answer(setup, question(setup, 'E')).searched).toEqual({ combinations, candidates });
  });

  it('and counts a slanted bar where it lies on the neck, and nowhere else', () => {
    // six strings: a slant of two frets, either way, stops three strings on frets where the middle one
    // lies half-way: 1-2-3, 2-3-4, 3-4-5, 4-5-6, 1-3-5, 2-4-6. Between frets 1 and 24 such a bar has 22
    // places, frets 1 and 3 to 22 and 24.
    const setup = builtIn('lap6-c6');
    const slanted = question(setup, 'E', { slants: true });
    expect(answer(setup, slanted).searched.candidates).toBe(25 * (20 + 15) + 6 * 2 * 22);
  });

  it('and covers less when less is asked', () => {
    const setup = builtIn('e9');
    const few = { frets: [3, 7], sizes: [3, 3], strings: [3, 4, 5, 6] } as const;
    // 5 frets, C(4, 3) = 4 grips
    expect(answer(setup, question(setup, 'E', few)).searched.candidates).toBe(96 * 5 * 4);
    // without A: foot none, B, C, B+C; 4 × 4 × 4 combinations
    const without = answer(setup, question(setup, 'E', { ...few, without: ['A'] }));
    expect(without.searched).toEqual({ combinations: 64, candidates: 64 * 5 * 4 });
  });
});
