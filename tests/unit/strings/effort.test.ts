/** The mean force that a control asks, term by term. */
import { describe, expect, it } from 'vitest';
import { builtIn } from '$lib/setup/builtIns';
import type { Control, Setup } from '$lib/setup/setup';
import { effortHolds, effortText } from '$lib/strings/effort';
import { rigging } from '$lib/strings/rigging';

const E9 = builtIn('e9');
const told = (setup: Setup, id: string, facts: Partial<Control>): Setup => ({
  ...setup,
  controls: setup.controls.map((each) => (each.id === id ? { ...each, ...facts } : each)),
});
const effort = (setup: Setup, id: string, travelMm?: number) => {
  const found = rigging(setup, { travelMm }).find((each) => each.id === id);
  if (found === undefined) throw new Error(id);
  return found;
};

describe('the mean effort of a control', () => {
  // By hand, 610 mm, steel of 7850 kg/m³ and 203.4 GPa: tension μ(2Lf)², way L·σ·(2^(2/6) − 1)/E, work
  // mean tension × way. String 5, .017 at B3: 104.3 N, σ = 712.5 MPa, 0.5554 mm, 117.9 N · 0.5554 mm =
  // 65.5 mJ. String 10, .036 wound on .01612, at B2: 4.295 g/m, 97.45 N, σ = 740.1 MPa, 0.5769 mm, 63.5 mJ.
  // Both over 30 mm: 129.0 mJ / 30 mm = 4.30 N.
  it('is the strings’ share and what slack, spring and friction add', () => {
    const { effortN, effort: whole } = effort(E9, 'A', 30);
    const terms = whole?.terms;
    expect(effortN).toBeCloseTo(4.3, 2);
    expect(terms?.stringsN).toBe(effortN);
    // usual values, common practice from memory: slack of a tenth, 7 N at a pedal, a quarter of friction
    expect(terms?.slackN).toBeCloseTo((effortN ?? 0) / 0.9 - (effortN ?? 0), 12);
    expect(terms?.springsN).toBe(7);
    // 4.30/0.9 + 7 = 11.78, a quarter of it 2.94, together 14.72
    expect(terms?.frictionN).toBeCloseTo(2.94, 2);
    expect(whole?.totalN).toBeCloseTo(14.72, 2);
    expect(terms?.usual).toEqual(['slack', 'springs', 'friction']);
  });

  it('asks less of the spring at a knee', () => {
    expect(effort(E9, 'LKL', 30).effort?.terms?.springsN).toBe(5);
  });

  it('takes one’s own slack and spring in the place of the usual ones', () => {
    const setup = told(E9, 'A', { travelMm: 20, slackMm: 4, springN: 3 });
    const { effortN = 0, effort: whole } = effort(setup, 'A');
    // over 16 of 20 mm the same work asks 20/16 of the force
    expect(whole?.terms?.slackN).toBeCloseTo(effortN * (20 / 16 - 1), 12);
    expect(whole?.terms?.springsN).toBe(3);
    expect(whole?.totalN).toBeCloseTo(1.25 * (effortN * 1.25 + 3), 12);
    expect(whole?.terms?.usual).toEqual(['friction']);
  });

  it('is what was measured where the setup tells it, with the terms beside', () => {
    const { effort: whole } = effort(told(E9, 'A', { forceN: 18 }), 'A', 30);
    expect(whole).toMatchObject({ totalN: 18, measured: true });
    expect(whole?.terms?.sumN).toBeCloseTo(14.72, 2);
    // a measured force needs no travel
    expect(effort(told(E9, 'A', { forceN: 18 }), 'A').effort).toEqual({
      totalN: 18,
      measured: true,
    });
  });

  it('is not told where neither travel nor force is known, or slack eats all of the travel', () => {
    expect(effort(E9, 'A').effort).toBeUndefined();
    expect(effort(told(E9, 'A', { slackMm: 30 }), 'A', 30).effort).toBeUndefined();
  });

  it('says what it holds', () => {
    const terms = {
      ...{ stringsN: 4.5, slackN: 0.5, springsN: 7, frictionN: 3, sumN: 15 },
      usual: [],
    };
    const counted = { totalN: 15, measured: false, terms };
    expect(effortText(counted)).toBe('15.0 N');
    expect(effortHolds(counted)).toBe('strings 4.5, slack 0.5, springs 7.0, friction 3.0');
    const measured = { totalN: 18, measured: true, terms };
    expect(effortText(measured)).toBe('18.0 N measured');
    expect(effortHolds(measured)).toBe(
      'counted 15.0: strings 4.5, slack 0.5, springs 7.0, friction 3.0',
    );
    expect(effortHolds({ totalN: 18, measured: true })).toBe('');
    // by hand: 15 N ÷ 4.448 222 N a pound = 3.372; 4.5 ÷ … = 1.012, 0.5 ÷ … = 0.112, 7 ÷ … = 1.574, 3 ÷ … = 0.674
    expect(effortText(counted, 'us')).toBe('3.37 lb');
    expect(effortHolds(counted, 'us')).toBe(
      'strings 1.01, slack 0.11, springs 1.57, friction 0.67',
    );
  });
});
