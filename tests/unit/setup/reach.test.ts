import { describe, expect, it } from 'vitest';
import { builtIn } from '$lib/setup/builtIns';
import {
  combinationCount,
  combinations,
  engageWith,
  footChoices,
  unreachable,
} from '$lib/setup/reach';
import { readSetup } from '$lib/setup/readSetup';
import { STATIONS, type Engaged, type Setup } from '$lib/setup/setup';
import { BOUNDS } from '$lib/setup/bounds';

interface Made {
  readonly pedalsAtOnce?: number;
  readonly kneeUpWithSideways?: boolean;
  readonly never?: readonly (readonly string[])[];
  readonly also?: readonly (readonly string[])[];
  /** Stations whose control has a half-stop. */
  readonly half?: readonly string[];
}

/** A setup with a control at each of the stations, each named as its station. */
function withControls(stations: string, { half = [], ...reach }: Made = {}): Setup {
  const read = readSetup({
    format: 2,
    name: `controls at ${stations}`,
    reach,
    necks: [{ name: 'n', strings: [{ open: 'C4' }] }],
    controls: stations
      .split(' ')
      .filter((station) => station !== '')
      .map((station) => ({
        id: station,
        station,
        pulls: [{ string: 1, semitones: 2, ...(half.includes(station) ? { half: 1 } : {}) }],
      })),
  });
  if (!read.ok) throw new Error(JSON.stringify(read.error));
  return read.value;
}

const pedals = (count: number): string =>
  Array.from({ length: count }, (_, index) => `P${index + 1}`).join(' ');
const full = (text: string): Engaged[] =>
  text.split(' ').map((id): Engaged => ({ id, state: 'full' }));
const texts = (choices: Iterable<readonly Engaged[]>): string[] =>
  [...choices].map((choice) =>
    choice.map(({ id, state }) => id + (state === 'half' ? '½' : '')).join(' '),
  );

describe('what one foot can hold (model, section 3)', () => {
  // none, one, or two neighbours of p pedals: 1 + p + (p − 1) = 2p
  it.each([1, 2, 3, 5, 7, 12])('two pedals at once of %i in a row: 2p states', (p) => {
    expect(footChoices(withControls(pedals(p)))).toHaveLength(2 * p);
  });

  // up to k neighbours of p pedals: 1 + p + (p − 1) + … + (p − k + 1)
  it.each([
    [1, 3],
    [2, 3],
    [3, 3],
    [4, 3],
    [1, 8],
    [2, 8],
    [3, 8],
    [4, 8],
    [4, 12],
  ])('up to %i neighbours of %i pedals', (k, p) => {
    let expected = 1;
    for (let size = 1; size <= k; size++) expected += Math.max(0, p - size + 1);
    expect(footChoices(withControls(pedals(p), { pedalsAtOnce: k }))).toHaveLength(expected);
  });

  it('a gap is not playable: not between numbers, and not where a pedal is missing', () => {
    expect(texts(footChoices(withControls('P1 P2 P4', { pedalsAtOnce: 4 })))).toEqual(
      expect.arrayContaining(['', 'P1', 'P2', 'P4', 'P1 P2']),
    );
    expect(footChoices(withControls('P1 P2 P4', { pedalsAtOnce: 4 }))).toHaveLength(5);
    expect(footChoices(withControls('P2 P9 P11', { pedalsAtOnce: 4 }))).toHaveLength(4);
  });

  it('pedals are neighbours by number, in whatever order the file names them', () => {
    const choices = texts(footChoices(withControls('P10 P9 P11')));
    expect(choices).toHaveLength(6);
    expect(choices).toEqual(expect.arrayContaining(['P9 P10', 'P10 P11']));
  });

  it('a half-stop is a state of its own', () => {
    // none; P1, P1½; P2; P1+P2, P1½+P2
    expect(texts(footChoices(withControls('P1 P2', { half: ['P1'] }))).sort()).toEqual(
      ['', 'P1', 'P1 P2', 'P1½', 'P1½ P2', 'P2'].sort(),
    );
  });
});

// the rules at the head of `setup/reach.ts`: common practice of the trade, from memory
describe('what second banks and the picking hand can hold', () => {
  it('a knee is at one bank at a time: 1 + 3 + 3', () => {
    const two = 'LKL LKV LKR LKL2 LKV2 LKR2';
    expect(combinationCount(withControls(two))).toBe(7);
    // and at each of them up with a side: 1 + 5 + 5
    expect(combinationCount(withControls(two, { kneeUpWithSideways: true }))).toBe(11);
    const setup = withControls(two, { kneeUpWithSideways: true });
    expect(unreachable(setup, full('LKL LKL2'))).toBe(
      'the left knee is at one bank of levers at a time',
    );
    expect(unreachable(setup, full('LKV LKR2'))).toMatch(/one bank/);
    expect(unreachable(setup, full('LKV2 LKR2'))).toBeUndefined();
    expect(unreachable(setup, full('LKL2 LKR2'))).toMatch(/one way at a time/);
  });

  it('banks of the two knees do not hinder each other: 7 × 7', () => {
    const all = 'LKL LKV LKR LKL2 LKV2 LKR2 RKL RKV RKR RKL2 RKV2 RKR2';
    expect(combinationCount(withControls(all))).toBe(49);
  });

  it('the hand has either palm lever or both, or the wrist: 1 + 3 + 1', () => {
    expect(texts(combinations(withControls('WRIST PALM1 PALM2'))).sort()).toEqual([
      '',
      'PALM1',
      'PALM1 PALM2',
      'PALM2',
      'WRIST',
    ]);
    expect(unreachable(withControls('WRIST PALM1'), full('WRIST PALM1'))).toMatch(
      /not both at once/,
    );
  });

  it('what the hand holds leaves feet and knees as they are: 2 × 3 pedals, 3 ways, times 5', () => {
    expect(combinationCount(withControls('P1 P2 P3 LKL LKR WRIST PALM1 PALM2'))).toBe(6 * 3 * 5);
    expect(
      unreachable(withControls('P1 P2 LKL RKV2 PALM1 PALM2'), full('P1 P2 LKL RKV2 PALM1 PALM2')),
    ).toBeUndefined();
  });

  it('a setup may say otherwise', () => {
    const setup = withControls('LKL LKL2 WRIST PALM1', {
      also: [
        ['LKL', 'LKL2'],
        ['WRIST', 'PALM1'],
      ],
      never: [['LKL', 'PALM1']],
    });
    expect(unreachable(setup, full('LKL LKL2'))).toBeUndefined();
    expect(unreachable(setup, full('WRIST PALM1'))).toBeUndefined();
    expect(unreachable(setup, full('LKL PALM1'))).toMatch(/never/);
    // the knee: none, either, both; the hand: none, either, both; without those that hold LKL and PALM1
    expect(combinationCount(setup)).toBe(4 * 4 - 2 * 2);
  });

  it('no control has no station any more: 27 stations for at most 20 controls', () => {
    expect(STATIONS).toHaveLength(27);
    expect(BOUNDS.controls[1]).toBeLessThanOrEqual(STATIONS.length);
    expect(new Set(STATIONS).size).toBe(STATIONS.length);
  });
});

describe('what both legs can hold', () => {
  it('three pedals and two knees with three positions each: 6 × 9 = 54', () => {
    expect(combinationCount(withControls('P1 P2 P3 LKL LKR RKL RKR'))).toBe(54);
  });

  it('a knee has one direction at a time, and up and sideways only where the setup says so', () => {
    expect(combinationCount(withControls('LKL LKV LKR'))).toBe(4);
    // none, L, V, R, V+L, V+R
    const longLegs = withControls('LKL LKV LKR', { kneeUpWithSideways: true });
    expect(combinationCount(longLegs)).toBe(6);
    // the two knees do not hinder each other
    expect(
      combinationCount(withControls('LKL LKV LKR RKL RKV RKR', { kneeUpWithSideways: true })),
    ).toBe(36);
  });

  // foot states × left knee × right knee, by hand: 2p for the foot, 1 + levers for a knee, a
  // lever with a half-stop counting twice
  it.each([
    ['e9', 6 * 4 * 4],
    ['c6', 10 * 2 * 3],
    ['double', 16 * 4 * 4],
    ['universal12', 14 * 3 * 4],
    ['lap6-c6', 1],
    ['lap8-c6', 1],
    ['lap6-a6', 1],
    ['square6-g', 1],
  ] as const)('the built-in %s has %i combinations', (id, count) => {
    expect(combinationCount(builtIn(id))).toBe(count);
    const all = texts(combinations(builtIn(id)));
    expect(all).toHaveLength(count);
    expect(new Set(all).size).toBe(count);
    expect(all).toContain('');
  });

  it('without controls there is one combination: nothing', () => {
    expect(texts(combinations(withControls('')))).toEqual(['']);
  });
});

describe('a combination that cannot be held is refused with the reason', () => {
  const setup = withControls('P1 P2 P3 P5 LKL LKV LKR RKL RKV RKR');

  it.each([
    ['P1 P2 P3', /at most 2 pedals/],
    ['P1 P3', /neighbours/],
    ['P3 P5', /neighbours/],
    ['LKL LKR', /left knee.*one way/],
    ['RKR P1 RKL', /right knee.*one way/],
    ['LKV LKL', /left knee.*lifted/],
    ['RKV RKR', /right knee.*lifted/],
  ])('%s', (ids, reason) => {
    expect(unreachable(setup, full(ids))).toMatch(reason);
  });

  it.each(['P1 P2', 'P3 P2', 'P5', 'LKL RKR', 'LKV RKV P2 P3'])('but %s can be held', (ids) => {
    expect(unreachable(setup, full(ids))).toBeUndefined();
  });

  it('one pedal at once is said as one pedal', () => {
    const one = withControls('P1 P2', { pedalsAtOnce: 1 });
    expect(unreachable(one, full('P1 P2'))).toMatch(/at most 1 pedal at once/);
    expect(combinationCount(one)).toBe(3);
  });
});

describe('a setup may list exceptions from what its rules say', () => {
  const held = (setup: Setup): string[] => texts(combinations(setup));

  it('a combination that is switched off goes, and all that hold it', () => {
    // 2 · 3 pedals = 6 choices of the foot, 3 of the left knee: 18; P1 with LKL is in
    // P1 LKL and P1 P2 LKL
    const setup = withControls('P1 P2 P3 LKL LKR', { never: [['LKL', 'P1']] });
    expect(combinationCount(setup)).toBe(16);
    expect(held(setup)).not.toContain('P1 LKL');
    expect(held(setup)).not.toContain('P1 P2 LKL');
    expect(held(setup)).toEqual(expect.arrayContaining(['P2 LKL', 'P1 LKR', 'P1 P2']));
    expect(unreachable(setup, full('P1 P2 LKL'))).toBe(
      'this setup says that P1 and LKL are never engaged together',
    );
  });

  it('a half-stop does not get round it', () => {
    const setup = withControls('P1 LKL', { half: ['P1'], never: [['P1', 'LKL']] });
    expect(held(setup).sort()).toEqual(['', 'LKL', 'P1', 'P1½']);
  });

  it('a single control that is never engaged stays off, with the reason', () => {
    const setup = withControls('P1 LKV', { never: [['LKV']] });
    expect(held(setup)).toEqual(['', 'P1']);
    const { engaged, letGo } = engageWith(setup, full('P1'), { id: 'LKV', state: 'full' });
    expect(engaged).toEqual(full('P1'));
    expect(letGo).toEqual([{ id: 'LKV', because: 'this setup says that LKV is never engaged' }]);
  });

  it('pedals with a gap, where allowed, go with every lever, but not with the pedal between', () => {
    const setup = withControls('P1 P2 P3 LKL', { also: [['P1', 'P3']] });
    // (6 choices of the foot and the one allowed) · 2 of the knee
    expect(combinationCount(setup)).toBe(14);
    expect(held(setup)).toEqual(expect.arrayContaining(['P1 P3', 'P1 P3 LKL']));
    expect(unreachable(setup, full('P1 P2 P3'))).toMatch(/at most 2/);
  });

  it('an exception that names a lever holds only with that lever', () => {
    const setup = withControls('P1 P2 P3 LKL LKR RKL', { also: [['P1', 'P3', 'LKL']] });
    expect(unreachable(setup, full('P1 P3 LKL'))).toBeUndefined();
    expect(unreachable(setup, full('P1 P3 LKL RKL'))).toBeUndefined();
    expect(unreachable(setup, full('P1 P3'))).toMatch(/neighbours/);
    expect(unreachable(setup, full('P1 P3 LKR'))).toMatch(/neighbours/);
    // 6 · 3 · 2 by the rules, and P1 P3 LKL with RKL or without
    expect(combinationCount(setup)).toBe(38);
  });

  it('what is allowed may be held at half-stops too', () => {
    const setup = withControls('P1 P2 P3', { half: ['P3'], also: [['P1', 'P3']] });
    expect(held(setup)).toEqual(expect.arrayContaining(['P1 P3', 'P1 P3½']));
  });

  it('engaging one of an allowed pair keeps the other', () => {
    const setup = withControls('LKL LKR', { also: [['LKL', 'LKR']] });
    expect(engageWith(setup, full('LKL'), { id: 'LKR', state: 'full' })).toEqual({
      engaged: full('LKL LKR'),
      letGo: [],
    });
  });
});
