/**
 * Just intervals, beat rates and the least squares of a sweetened tuning against figures from outside:
 * the cents of "List of intervals in 5-limit just intonation", the usual beat rates of piano tuners,
 * and the limits of meantone temperament.
 */
import { existsSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { hzOf } from '$lib/theory/pitch';
import { readSetup } from '$lib/setup/readSetup';
import { beats, purityOf } from '$lib/tuning/chords';
import { centsOf, intervalRatio, justOffset, justRatio, type Ratio } from '$lib/tuning/justRatios';
import { stopsOf } from '$lib/tuning/stops';
import { justify, sweeten, wishOf } from '$lib/tuning/temper';
import type { Use } from '$lib/tuning/uses';

const TRIAD = ['1', '3', '5'];

describe('just intervals', () => {
  it.each([
    [[3, 2], 701.955001],
    [[4, 3], 498.044999],
    [[5, 4], 386.313714],
    [[6, 5], 315.641287],
    [[5, 3], 884.358713],
    [[8, 5], 813.686286],
    [[7, 4], 968.825906],
    [[9, 8], 203.910002],
    [[16, 15], 111.731285],
    [[15, 8], 1088.268715],
    [[9, 5], 1017.596288],
    [[16, 9], 996.089998],
    [[45, 32], 590.223716],
    [[64, 45], 609.776284],
    [[81, 80], 21.50629],
  ] as const)('%j is %f cents', (ratio, cents) => {
    expect(centsOf(ratio)).toBeCloseTo(cents, 6);
  });

  // offsets of a sweetened chord from equal temperament, as they are commonly printed
  it.each([
    ['3', TRIAD, -13.686],
    ['b3', ['1', 'b3', '5'], 15.641],
    ['5', TRIAD, 1.955],
    ['6', ['1', '3', '5', '6'], -15.641],
    ['9', ['1', '3', '5', '9'], 3.91],
  ])('degree %s lies %f cents off', (degree, all, cents) => {
    expect(justOffset(degree, all)).toBeCloseTo(cents, 3);
  });

  it('of a dominant seventh are a choice, that of a minor chord is not', () => {
    const dominant = ['1', '3', '5', 'b7'];
    expect(justOffset('b7', dominant, '7/4')).toBeCloseTo(-31.174, 3);
    expect(justOffset('b7', dominant)).toBeCloseTo(-3.91, 3);
    expect(justOffset('b7', dominant, '9/5')).toBeCloseTo(17.596, 3);
    for (const seventh of ['7/4', '16/9', '9/5'] as const)
      expect(justRatio('b7', ['1', 'b3', '5', 'b7'], seventh)).toEqual([9, 5]);
  });

  it('make the five-limit scale of twelve notes, to a cent (Malcolm)', () => {
    const degrees = ['1', 'b9', '9', 'b3', '3', '11', '#11', '5', 'b13', '13', 'b7', '7'];
    expect(
      degrees.map((degree) => Math.round(centsOf(justRatio(degree, degrees.slice(4))))),
    ).toEqual([0, 112, 204, 316, 386, 498, 590, 702, 814, 884, 996, 1088]);
  });

  it('between degrees are ratios in lowest terms, in any octave', () => {
    expect(intervalRatio([5, 4], [3, 2], 3)).toEqual([6, 5]);
    expect(intervalRatio([3, 2], [5, 4], 9)).toEqual([5, 3]);
    expect(intervalRatio([1, 1], [5, 4], 16)).toEqual([5, 2]);
    expect(intervalRatio([3, 2], [1, 1], 5)).toEqual([4, 3]);
  });

  const CHECKS = '../shared/checks/check-values.json';
  const there = existsSync(CHECKS);
  it.skipIf(!there)(`are the cents of ${CHECKS}${there ? '' : ' (not there)'}`, () => {
    const { cents } = JSON.parse(readFileSync(CHECKS, 'utf8')) as { cents: Record<string, number> };
    for (const [text, value] of Object.entries(cents))
      expect(centsOf(text.split('/').map(Number) as unknown as Ratio), text).toBeCloseTo(value, 5);
  });
});

describe('beats', () => {
  // equal temperament at A4 = 440; the first three are the piano tuners' usual figures
  it.each([
    ['F3–A3', 53, 57, [5, 4], 6.929],
    ['C4–E4', 60, 64, [5, 4], 10.382],
    ['A3–C♯4', 57, 61, [5, 4], 8.731],
    ['A3–E4', 57, 64, [3, 2], 0.745],
  ] as const)('%s: %f a second', (_, low, high, ratio, expected) => {
    expect(beats(hzOf(low), hzOf(high), ratio)).toBeCloseTo(expected, 3);
  });
});

/** C, G, D, A, E in fifths: four fifths cannot be pure together with the third of C and E. */
function meantone() {
  const read = readSetup({
    format: 1,
    name: 'fifths',
    necks: [{ name: 'neck', strings: ['C3', 'G3', 'D4', 'A4', 'E5'].map((open) => ({ open })) }],
    controls: [],
  });
  if (!read.ok) throw new Error(JSON.stringify(read.error));
  const setup = read.value;
  const stops = stopsOf(setup, 1);
  const dyad = (low: number, high: number, degree: string, weight: number): Use => ({
    symbol: 'C5',
    neck: 1,
    fret: 0,
    engaged: [],
    strings: [low, high],
    tones: ['1', degree],
    degrees: ['1', degree],
    weight,
  });
  const uses = (ofThird: number): Use[] => [
    dyad(1, 2, '5', 1),
    dyad(2, 3, '5', 1),
    dyad(3, 4, '5', 1),
    dyad(4, 5, '5', 1),
    dyad(1, 5, '3', ofThird),
  ];
  return { setup, stops, uses };
}

describe('sweetening by least squares', () => {
  const { setup, stops, uses } = meantone();
  const tempered = (ofThird: number) => {
    const wishes = uses(ofThird).map((use) => wishOf(setup, stops, use));
    const offsets = sweeten(stops.length, wishes, { anchor: 0 });
    const at = (stop: number) => offsets[stop] ?? NaN;
    return {
      fifths: [1, 2, 3, 4].map((stop) => 700 + at(stop) - at(stop - 1)),
      third: 400 + at(4) - at(0),
    };
  };

  // κ = 21.50629 cents: each fifth narrow by κ(1/wf)/(4/wf + 1/wt), the third wide by κ(1/wt)/(4/wf + 1/wt)
  it.each([
    ['equal weights', 1, 4.301258, 4.301258],
    ['the third four times as heavy', 4, 5.060303, 1.265076],
    ['the third alone counts: quarter-comma meantone', 1e9, 5.376572, 0],
  ])('%s', (_, weight, narrow, wide) => {
    const { fifths, third } = tempered(weight);
    for (const fifth of fifths) expect(fifth).toBeCloseTo(701.955001 - narrow, 5);
    expect(third).toBeCloseTo(386.313714 + wide, 5);
  });

  it('tends to fifths of 696.578 cents, as quarter-comma meantone is published', () => {
    for (const fifth of tempered(1e9).fifths) expect(fifth).toBeCloseTo(696.578, 3);
  });

  it('in the order of wishes instead, four pure fifths leave the third a comma wide', () => {
    const chain = uses(1);
    const { offsets, impure } = justify(
      stops.length,
      chain.map((use) => wishOf(setup, stops, use)),
      0,
    );
    expect(impure).toEqual([4]);
    const [third] = chain.slice(4);
    if (third === undefined) throw new Error('the third');
    const { deviations } = purityOf(setup, stops, offsets, third);
    // 81/80, half of it at each end
    expect((deviations[1] ?? 0) - (deviations[0] ?? 0)).toBeCloseTo(21.50629, 5);
  });
});
