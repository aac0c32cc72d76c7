/** Loads of whole setups: what the bench answers before a screw is moved. */
import { describe, expect, it } from 'vitest';
import { BUILT_IN_IDS, builtIn } from '$lib/setup/builtIns';
import { readSetup } from '$lib/setup/readSetup';
import type { Setup } from '$lib/setup/setup';
import { balanceOf } from '$lib/strings/balance';
import { DEFAULT_BANDS } from '$lib/strings/bands';
import { loadOf, stringLoads, totalOf } from '$lib/strings/loads';
import { gaugesMissing, stringWarnings } from '$lib/strings/warnings';
import { woundMassPerM } from '$lib/strings/wire';

const setupOf = (strings: readonly object[], controls: readonly object[] = []): Setup => {
  const read = readSetup({
    format: 1,
    name: 'small',
    // 24¼ inches
    scaleLengthMm: 615.95,
    necks: [{ name: 'neck', strings }],
    controls,
  });
  if (!read.ok) throw new Error(JSON.stringify(read.error));
  return read.value;
};
const raises = (semitones: number) => [
  { id: 'A', station: 'P1', pulls: [{ string: 1, semitones }] },
];

describe('bands', () => {
  // everyday use on a scale of 24¼ inches: 88 %, and it holds
  it('do not cry wolf over .011 G♯ raised to A', () => {
    const setup = setupOf([{ open: 'G#4', gauge: 0.011 }], raises(1));
    expect(stringLoads(setup)[0]?.load?.shareTop).toBeCloseTo(0.876, 3);
    expect(stringWarnings(setup)).toEqual([]);
  });

  // common practice: these gauges are everyday on these tunings
  it.each(BUILT_IN_IDS)('find nothing to warn of in %s', (id) => {
    expect(stringWarnings(builtIn(id))).toEqual([]);
  });

  it('call .011 G♯ raised to B♭ close to breaking, and to B over the limit', () => {
    const strings = [{ open: 'G#4', gauge: 0.011 }];
    const [near] = stringWarnings(setupOf(strings, raises(2)));
    // 98.3 % (worked out apart); 1200·log2 √(1/.983) = 14.8 cents of headroom
    expect(near).toMatchObject({ neck: 1, string: 1, band: 'near', about: 'strength' });
    expect(near?.share).toBeCloseTo(0.983, 3);
    expect(near?.headroomSemitones).toBeCloseTo(0.15, 2);
    expect(near?.sentence).toBe(
      'String 1 (G♯4, .011) raised to B♭4 stands at 98 % of the wire’s least strength: close to breaking, 15 cents below it.',
    );
    const [beyond] = stringWarnings(setupOf(strings, raises(3)));
    expect(beyond).toMatchObject({ band: 'beyond', about: 'strength' });
    expect(beyond?.sentence).toMatch(/raised to B4 stands at 110 % .* likely to break\.$/);
  });

  it('are settings', () => {
    const setup = setupOf([{ open: 'G#4', gauge: 0.011 }], raises(1));
    const strict = { ...DEFAULT_BANDS, shareNear: 0.75 };
    expect(stringWarnings(setup, strict)).toMatchObject([{ band: 'near', about: 'strength' }]);
  });

  it('tell of slack strings and of absurdly heavy ones', () => {
    // .010 at E3 bears an eighth of .010 at E4 on 25.5 inches (72.5 N) times two: 16.4 N
    expect(stringWarnings(setupOf([{ open: 'E3', gauge: 0.01 }]))).toMatchObject([
      { band: 'beyond', about: 'slack' },
    ]);
    // .060 at E4 is (60/14)² of 128.6 N
    expect(stringWarnings(setupOf([{ open: 'E4', gauge: 0.06 }]))).toMatchObject([
      { band: 'beyond', about: 'heavy' },
    ]);
  });

  it('put what is beyond before what is near', () => {
    const setup = setupOf(
      [
        { open: 'G#4', gauge: 0.011 },
        { open: 'C5', gauge: 0.011 },
      ],
      raises(2),
    );
    expect(stringWarnings(setup).map(({ band }) => band)).toEqual(['beyond', 'near']);
  });
});

describe('loads', () => {
  it('count the greatest raise and lower; a split only takes from a raise', () => {
    const setup = setupOf(
      [{ open: 'B3', gauge: 0.017 }],
      [
        { id: 'A', station: 'P1', pulls: [{ string: 1, semitones: 2 }] },
        { id: 'C', station: 'P3', pulls: [{ string: 1, semitones: 2 }] },
        { id: 'LKV', station: 'LKV', pulls: [{ string: 1, semitones: -1 }] },
      ],
    );
    const [each] = stringLoads(setup);
    expect(each?.compass).toEqual({ up: 2, down: -1 });
    const { load } = each ?? {};
    // two semitones up: the tension grows by 2^(1/3), one down: falls by 2^(−1/6)
    expect((load?.tensionTopN ?? 0) / (load?.tensionN ?? 1)).toBeCloseTo(1.259921, 6);
    expect((load?.tensionBottomN ?? 0) / (load?.tensionN ?? 1)).toBeCloseTo(0.890899, 6);
  });

  it('go with the reference pitch and the scale length', () => {
    const setup = builtIn('e9');
    const [first] = stringLoads(setup);
    const [sharper] = stringLoads({ ...setup, referenceHz: 445 });
    const [longer] = stringLoads({ ...setup, scaleLengthMm: 2 * setup.scaleLengthMm });
    expect((sharper?.load?.tensionN ?? 0) / (first?.load?.tensionN ?? 1)).toBeCloseTo(
      (445 / 440) ** 2,
      9,
    );
    expect((longer?.load?.tensionN ?? 0) / (first?.load?.tensionN ?? 1)).toBeCloseTo(4, 9);
  });

  it('of a wound string: mass by geometry, load on its core alone', () => {
    // .036 on a core of .016, wound with .010, by hand. A turn is √((π·.6604)² + .254²) = 2.0902 mm;
    // 1000/.254 turns of .050671 mm² make 416.98 mm³ a metre, 3.2733 g; the core .12972 mm², 1.0183 g.
    expect(1000 * woundMassPerM(0.036, 0.016)).toBeCloseTo(4.2916, 3);
    const [told, guessed] = stringLoads(
      setupOf([
        { open: 'B2', gauge: 0.036, wound: true, coreGauge: 0.016 },
        { open: 'B2', gauge: 0.036, wound: true },
      ]),
    );
    // (2 · .61595 m · 123.471 Hz)² · 4.2916 g/m = 99.29 N on .12972 mm²
    expect(told?.load?.tensionN).toBeCloseTo(99.29, 1);
    expect(told?.load?.stressMpa).toBeCloseTo(99.29 / 0.12972, 0);
    expect(told?.load?.estimate).toBe(false);
    expect(guessed?.load?.estimate).toBe(true);
    expect(guessed?.load?.wire.assumption).toMatch(/core is taken as \.0161 inch/);
  });

  it('of a raise that is only thought of', () => {
    const setup = setupOf([{ open: 'G#4', gauge: 0.011 }]);
    const [string] = setup.necks[0]?.strings ?? [];
    if (string === undefined) throw new Error('one string');
    const shareTop = (up: number, down: number): number => {
      const found = loadOf(setup, string, { up, down });
      return 'load' in found ? found.load.shareTop : NaN;
    };
    expect(shareTop(1, 0)).toBeCloseTo(0.876, 3);
    expect(shareTop(0, -2)).toBeCloseTo(0.7801, 4);
    expect(loadOf(setup, { open: string.open }, { up: 1, down: 0 })).toHaveProperty('why');
  });

  it('add up on the body, and are compared between neighbours', () => {
    const loads = stringLoads(
      setupOf([
        { open: 'E4', gauge: 0.014 },
        { open: 'E4', gauge: 0.028 },
        { open: 'B3' },
        { open: 'B3', gauge: 0.017 },
      ]),
    );
    // 128.553 N (worked out apart); twice the gauge is four times the tension
    expect(totalOf(loads.slice(0, 2)).totalN).toBeCloseTo(5 * 128.553, 1);
    expect(totalOf(loads).without).toBe(1);
    const pairs = balanceOf(loads);
    expect(pairs).toMatchObject([{ neck: 1, strings: [1, 2], uneven: true }]);
    expect(pairs[0]?.ratio).toBeCloseTo(4, 9);
  });
});

describe('what is not told', () => {
  it('leaves the rest working, and is said', () => {
    const setup = setupOf([{ open: 'G#4' }, { open: 'E4', gauge: 0.014 }], raises(3));
    expect(stringLoads(setup).map(({ missing }) => missing)).toEqual([
      'No gauge is entered.',
      undefined,
    ]);
    expect(gaugesMissing(setup)).toBe(
      '1 of 2 strings have no gauge entered; nothing is said about those.',
    );
    expect(gaugesMissing(setupOf([{ open: 'E4' }]))).toMatch(/^No gauge is entered/);
    expect(gaugesMissing(builtIn('e9'))).toBeUndefined();
  });

  it('absurd gauges are told in words, not in figures', () => {
    const setup = setupOf([
      { open: 'E4', gauge: 0.15 },
      { open: 'E3', gauge: 0.03, wound: true, coreGauge: 0.03 },
    ]);
    expect(stringLoads(setup).map(({ load, missing }) => [load, missing])).toEqual([
      [undefined, 'The table of wire ends at .080 inch, and its wire is .150.'],
      [undefined, 'A core of .030 inch leaves no room for a winding on a string of .030.'],
    ]);
    expect(stringWarnings(setup)).toEqual([]);
  });
});
