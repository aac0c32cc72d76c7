import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { builtIn } from '$lib/setup/builtIns';
import type { Neck, Setup } from '$lib/setup/setup';
import { noteName } from '$lib/theory/pitch';
import { barTerms, findingTerms, heightTerms } from '$lib/effort/bar';
import { isEveryday, pickingTerms } from '$lib/effort/picking';
import type { Term } from '$lib/effort/weights';
import { everyGrip } from '../../property/plainSearch';

const sum = (terms: readonly Term[]): number =>
  terms.reduce((total, { value }) => total + value, 0);
const neckOf = (id: 'e9' | 'c6'): Neck => {
  const [neck] = builtIn(id).necks;
  if (neck === undefined) throw new Error(id);
  return neck;
};
const picking = (...strings: number[]): number => sum(pickingTerms(neckOf('e9'), strings));

describe('the picking hand (model, section 7)', () => {
  it('knows exactly the four everyday grips of E9, and they are free', () => {
    // common practice of the trade, no published source: 3-4-5, 4-5-6, 5-6-8, 6-8-10
    const everyday = [
      [3, 4, 5],
      [4, 5, 6],
      [5, 6, 8],
      [6, 8, 10],
    ];
    const grips = everyGrip(10, [3, 3]);
    expect(grips.filter((grip) => isEveryday(neckOf('e9'), grip))).toEqual(everyday);
    expect(grips.filter((grip) => picking(...grip) === 0)).toEqual(everyday);
    for (const grip of everyday) expect(pickingTerms(neckOf('e9'), grip)).toEqual([]);
  });

  it('finds more strings dearer: four than three, five than four', () => {
    expect(picking(3, 4, 5, 6)).toBeGreaterThan(picking(3, 4, 5));
    expect(picking(3, 4, 5, 6, 8)).toBeGreaterThan(picking(3, 4, 5, 6));
    expect(picking(3, 4, 5, 6, 7, 8)).toBeGreaterThan(picking(3, 4, 5, 6, 7));
  });

  it('finds gaps inside a grip dearer, and a wide span', () => {
    expect(picking(2, 4, 5)).toBeGreaterThan(picking(1, 2, 3));
    expect(picking(2, 4, 6)).toBeGreaterThan(picking(2, 4, 5));
    // as many strings picked and skipped a string each more
    expect(picking(1, 2, 9)).toBeGreaterThan(picking(1, 2, 6));
    const widening = [4, 5, 6, 7, 8, 9, 10].map((last) => picking(1, 2, last));
    expect(widening).toEqual(widening.toSorted((a, b) => a - b));
    expect(new Set(widening).size).toBe(widening.length);
  });

  it('tells what is dear in a grip, each with its weight', () => {
    const told = (strings: number[], second?: readonly number[]): string[] =>
      pickingTerms(neckOf('e9'), strings, undefined, second).map(
        ({ part, name, value }) => `${part}: ${name} ${value.toFixed(2)}`,
      );
    expect(told([2, 4, 5])).toEqual([
      'picking: not an everyday grip 1.25',
      'picking: a string skipped 0.50',
    ]);
    expect(told([1, 2, 9])).toEqual([
      'picking: not an everyday grip 1.25',
      'picking: 6 strings skipped 3.00',
      // four beyond five
      'picking: a wide grip 1.20',
    ]);
    expect(told([3, 4, 5, 6])).toEqual(['picking: 4 strings at once 0.40']);
    // five are no everyday grip, though they follow one another in the row of home strings
    expect(told([3, 4, 5, 6, 8])).toEqual([
      'picking: 5 strings at once 1.20',
      'picking: not an everyday grip 1.25',
      'picking: a string skipped 0.50',
      'picking: a wide grip 0.30',
    ]);
    // beyond six the thumb rakes
    expect(told([1, 2, 3, 4, 5, 6, 7])[0]).toBe('picking: 7 strings at once 2.00');
    // one string is no grip, on whatever it lies; two neighbours of the row are one
    for (const strings of [[7], [4], [4, 5], [6, 8]]) expect(told(strings)).toEqual([]);
    // F♯ D♯ B F♯ B on strings 1, 2, 5, 7 and 10 are the row of a second home on B
    expect(told([2, 5, 7])).not.toEqual([]);
    expect(told([2, 5, 7], [1, 2, 5, 7, 10])).toEqual([]);
  });

  it('knows an everyday grip wherever the tuning has it: neighbours of C6 are free', () => {
    // all of E C A G E C belong to the home chord C6, so 2-3-4 and 3-4-5 are neighbours in its row
    for (const grip of [
      [2, 3, 4],
      [3, 4, 5],
      [4, 5, 6],
      [5, 6, 7],
    ])
      expect(pickingTerms(neckOf('c6'), grip)).toEqual([]);
  });
});

describe('the bar (model, section 7)', () => {
  const setup = builtIn('e9');
  /** The way of the bar alone: what a known place adds. */
  const way = (from: number, to: number, on: Setup = setup): number =>
    sum(barTerms(on, to, from)) - sum(barTerms(on, to, undefined));
  const fret = fc.nat({ max: 24 });

  it('does not move when it stays', () => {
    for (let at = 0; at <= 24; at++) expect(way(at, at)).toBe(0);
  });

  it('moves as far to and fro, and never farther by going straight', () => {
    fc.assert(
      fc.property(fret, fret, fret, (a, b, c) => {
        expect(way(a, b)).toBeCloseTo(way(b, a), 9);
        expect(way(a, c)).toBeLessThanOrEqual(way(a, b) + way(b, c) + 1e-9);
        if (a !== b) expect(way(a, b)).toBeGreaterThan(0);
      }),
    );
  });

  it('counts millimetres: fret n lies at L · (1 − 2^(−n/12))', () => {
    // half the string lies below fret 12, half of the rest between 12 and 24
    expect(way(0, 12)).toBeCloseTo(2 * way(12, 24), 9);
    const mm = (n: number): number => 1 - 2 ** (-n / 12);
    fc.assert(
      fc.property(fret, fret, (a, b) => {
        expect(way(a, b) / way(0, 12)).toBeCloseTo(Math.abs(mm(a) - mm(b)) / mm(12), 9);
      }),
    );
    // twice the scale, twice the way
    const long = { ...setup, scaleLengthMm: 2 * setup.scaleLengthMm };
    expect(way(3, 8, long)).toBeCloseTo(2 * way(3, 8), 9);
    // 610 mm: fret 12 is 305 mm from the nut
    expect(barTerms(setup, 12, 0).map(({ name }) => name)).toEqual(['305 mm from fret 0']);
  });

  it('costs nothing up to the twelfth fret where it is not known where it was, then more and more', () => {
    for (let at = 0; at <= 12; at++) expect(barTerms(setup, at, undefined)).toEqual([]);
    for (let at = 13; at <= 24; at++)
      expect(sum(barTerms(setup, at, undefined))).toBeGreaterThan(
        sum(barTerms(setup, at - 1, undefined)),
      );
  });

  it('is dearer slanted, by two frets more than by one, backwards more than forwards', () => {
    const slanted = (slant: number): number => sum(barTerms(setup, 5, undefined, slant));
    expect(slanted(1)).toBeGreaterThan(0);
    expect(slanted(2)).toBeGreaterThan(slanted(1));
    expect(slanted(-1)).toBeGreaterThan(slanted(1));
    expect(slanted(-2)).toBeGreaterThan(slanted(2));
    // from fret 6 back to 5 and from 5 on to 6 the ends are equally far apart
    expect(sum(barTerms(setup, 6, undefined, -1))).toBeGreaterThan(slanted(1));
  });

  it('thins out above the twelfth fret, by each fret alike', () => {
    for (let at = 0; at <= 12; at++) expect(heightTerms(at)).toEqual([]);
    for (const at of [13, 18, 24])
      expect(sum(heightTerms(at))).toBeCloseTo((at - 12) * sum(heightTerms(13)), 9);
    expect(heightTerms(13)).toMatchObject([{ part: 'bar', name: 'high on the neck' }]);
    expect(sum(heightTerms(13))).toBeGreaterThan(0);
  });

  it('is found at once where the root lies open, and reckoned from there for half a pedal', () => {
    const finding = (
      letter: 'C' | 'G',
      fret: number,
      second?: readonly number[],
    ): readonly Term[] => findingTerms(neckOf('e9'), { root: noteName(letter, 0) }, fret, second);
    // E9 is an E at the nut: G at fret 3, C at 8, an octave up too (common practice)
    for (const [letter, fret] of [
      ['G', 3],
      ['G', 15],
      ['C', 8],
      ['C', 20],
    ] as const)
      expect(finding(letter, fret)).toEqual([]);
    // with A and B down C lies at 3, with A and the F lever at 11: neither is called a C's own fret
    for (const fret of [3, 11])
      expect(finding('C', fret)).toMatchObject([{ part: 'bar', value: 0.5 }]);
    // a second home on B, at the nut, has C at the first fret
    expect(finding('C', 1)).toHaveLength(1);
    expect(finding('C', 1, [11])).toEqual([]);
    expect(finding('C', 8, [11])).toEqual([]);
  });

  it('is dearer slanted near the nut, by the millimetres between its ends', () => {
    // 610 · (2^(−1/12) − 2^(−3/12)) = 62.8 mm, and half of it an octave up
    const names = (fret: number): string[] =>
      barTerms(setup, fret, undefined, 2).map(({ name }) => name);
    expect(names(1)).toContain('over 63 mm');
    expect(names(13)).toContain('over 31 mm');
    const lengthwise = (fret: number): number =>
      sum(barTerms(setup, fret, undefined, 2).filter(({ name }) => name.startsWith('over')));
    expect(lengthwise(1)).toBeCloseTo(2 * lengthwise(13), 9);
    // as G7 on a lap steel in C6: the slant up the neck before the one at the nut
    expect(sum(barTerms(setup, 13, undefined, 2))).toBeLessThan(
      sum(barTerms(setup, 1, undefined, 2)),
    );
  });
});
