/** What the controls have to do, which gauges would suit, and what warmth does. */
import { describe, expect, it } from 'vitest';
import { builtIn } from '$lib/setup/builtIns';
import type { Setup } from '$lib/setup/setup';
import { compassOf } from '$lib/strings/compass';
import { gaugeAdvice, gaugesFor } from '$lib/strings/gauges';
import { stringLoads } from '$lib/strings/loads';
import { rigging } from '$lib/strings/rigging';
import { driftsOf, partingPairs } from '$lib/strings/warmth';

// 24¼ inches, as the rows that were worked out apart
const E9: Setup = { ...builtIn('e9'), scaleLengthMm: 615.95 };
const control = (setup: Setup, id: string, travelMm?: number) => {
  const found = rigging(setup, { travelMm }).find((each) => each.id === id);
  if (found === undefined) throw new Error(id);
  return found;
};

describe('pulls', () => {
  it('draw each string by what physics asks', () => {
    // .011 G♯4 +1: 0.762 mm; .014 E4 +1 0.480, +2 1.019, −1 −0.428; .017 B3 +2 0.572
    expect(control(E9, 'B').pulls[0]?.stretchMm).toBeCloseTo(0.762, 3);
    expect(control(E9, 'LKL').pulls[0]?.stretchMm).toBeCloseTo(0.48, 3);
    expect(control(E9, 'LKR').pulls[0]?.stretchMm).toBeCloseTo(-0.428, 3);
    expect(control(E9, 'C').pulls.map(({ stretchMm }) => stretchMm.toFixed(3))).toEqual([
      '1.019',
      '0.572',
    ]);
  });

  it('are told as shares of the longest, so that all arrive together', () => {
    const c = control(E9, 'C');
    expect(c.longest?.string).toBe(4);
    expect(c.pulls.map(({ share }) => share)).toEqual([1, expect.closeTo(0.572 / 1.019, 2)]);
  });

  it('stretch the wire beyond nut and bridge too', () => {
    const longer = control({ ...E9, deadLengthMm: 0.2 * 615.95 }, 'B');
    expect(longer.pulls[0]?.stretchMm).toBeCloseTo(1.2 * 0.762, 2);
  });

  it('go by the way of the rod where the leverage is told', () => {
    const setup: Setup = {
      ...E9,
      controls: E9.controls.map((each) =>
        each.id !== 'C'
          ? each
          : {
              ...each,
              pulls: each.pulls.map((pull) =>
                pull.string === 5 ? { ...pull, leverage: 3 } : pull,
              ),
            },
      ),
    };
    const c = control(setup, 'C');
    expect(c.longest?.string).toBe(5);
    expect(c.pulls[1]?.rodMm).toBeCloseTo(3 * 0.572, 2);
    expect(c.pulls[0]?.share).toBeCloseTo(1.019 / (3 * 0.572), 2);
  });

  it('say where on the way the half-stop lies', () => {
    // D♯ to D of D♯ to C♯: (1 − 2^(−1/6)) / (1 − 2^(−1/3)) = 0.5288
    expect(control(E9, 'RKR').pulls[0]?.halfShare).toBeCloseTo(0.5288, 4);
  });
});

describe('controls', () => {
  it('do the work of mean tension over the way', () => {
    // .014 E4 from 128.553 N up two semitones (×1.259921) over 1.019 mm: 0.1480 J
    const c = control(E9, 'C');
    expect(c.pulls[0]?.workJ).toBeCloseTo(((128.553 * 2.259921) / 2) * 1.019e-3, 4);
    expect(c.workJ).toBeCloseTo(
      c.pulls.reduce((sum, { workJ }) => sum + workJ, 0),
      12,
    );
  });

  it('take a mean force for a given way of foot or knee', () => {
    const c = control(E9, 'C', 40);
    expect(c.effortN).toBeCloseTo(c.workJ / 0.04, 9);
    expect(control(E9, 'C').effortN).toBeUndefined();
    const own = {
      ...E9,
      controls: E9.controls.map((each) => (each.id === 'C' ? { ...each, travelMm: 20 } : each)),
    };
    expect(control(own, 'C', 40).travelMm).toBe(20);
    expect(control(own, 'C', 40).effortN).toBeCloseTo(c.workJ / 0.02, 9);
  });

  it('stand out where they ask far more than the others', () => {
    // C raises E4 and B3 by a whole tone each, more than any other
    expect(
      rigging(E9)
        .filter(({ heavy }) => heavy)
        .map(({ id }) => id),
    ).toContain('C');
    expect(control(E9, 'LKV').heavy).toBe(false);
  });

  it('leave out strings without a gauge, and say how many', () => {
    const setup: Setup = {
      ...E9,
      necks: E9.necks.map((neck) => ({
        ...neck,
        strings: neck.strings.map((string, index) =>
          index === 2 || index === 5 ? { open: string.open } : string,
        ),
      })),
    };
    expect(control(setup, 'B')).toMatchObject({ pulls: [], without: 2, workJ: 0, heavy: false });
    expect(control(setup, 'A').without).toBe(0);
  });
});

describe('gauges that would suit', () => {
  it('meet the wanted tension and headroom', () => {
    const wanted = { tensionN: [100, 130], headroomSemitones: [1, 20] } as const;
    const [, , third] = gaugeAdvice(E9, wanted);
    // G♯4: .011 gives 126 N, .012 150 N; what it bears hardly goes by the gauge
    expect(third?.suiting.map(({ gauge }) => gauge)).toEqual([0.01, 0.0105, 0.011]);
    for (const { load } of third?.suiting ?? []) {
      expect(load.tensionN).toBeGreaterThanOrEqual(100);
      expect(load.tensionN).toBeLessThanOrEqual(130);
      expect(load.headroomSemitones).toBeGreaterThanOrEqual(1);
    }
  });

  it('count the gauges of everyday sets among the usual ones', () => {
    for (const { string, suiting } of gaugeAdvice(E9)) {
      const own = E9.necks[0]?.strings[string - 1];
      expect(
        suiting.map(({ gauge }) => gauge),
        `string ${string}`,
      ).toContain(own?.gauge);
    }
  });

  it('say why where there is none', () => {
    const [string] = E9.necks[0]?.strings.slice(2) ?? [];
    if (string === undefined) throw new Error('string 3');
    const compass = { ...compassOf(E9, 1, 3), up: 4 };
    expect(gaugesFor(E9, string, compass).none).toMatch(/^No gauge has so much headroom/);
    const nowhere = { tensionN: [1, 2], headroomSemitones: [0, 30] } as const;
    expect(gaugesFor(E9, string, compass, nowhere).none).toMatch(/^No gauge gives this tension/);
  });
});

describe('warmth', () => {
  const loads = stringLoads(E9);

  it('flattens every string, the slackest steel most', () => {
    const drifts = driftsOf(loads);
    // .014 E4 on 24.25 inches: −1.632 cents a kelvin (worked out apart)
    expect(drifts[3]?.centsPerKelvin).toBeCloseTo(-1.632, 3);
    // .020 G♯3 at 74.5 ksi against .014 at 187.74: by the ratio of their stresses
    expect(drifts[5]?.centsPerKelvin).toBeCloseTo((-1.632 * 187.74) / 74.5, 2);
  });

  it('parts octaves and unisons first of all', () => {
    const [worst] = partingPairs(loads);
    expect(worst).toMatchObject({ strings: [3, 6], sameNote: true });
    const drifts = driftsOf(loads);
    expect(worst?.centsPerKelvin).toBeCloseTo(
      (drifts[5]?.centsPerKelvin ?? 0) - (drifts[2]?.centsPerKelvin ?? 0),
      9,
    );
    // 10 strings make 45 pairs
    expect(partingPairs(loads)).toHaveLength(45);
  });
});
