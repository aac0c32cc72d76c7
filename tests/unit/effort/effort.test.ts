import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { BUILT_IN_IDS, builtIn } from '$lib/setup/builtIns';
import { effortOf } from '$lib/effort/effort';
import { feetEffort } from '$lib/effort/feet';
import { EVEN, PARTS } from '$lib/effort/weights';
import { battery } from '../../battery';
import { ask } from '../search/asking';

const sum = (values: readonly number[]): number => values.reduce((a, b) => a + b, 0);

describe('an effort (model, section 7)', () => {
  for (const id of ['e9', 'c6', 'lap8-c6'] as const) {
    const slants = id === 'lap8-c6';
    const found = ask(builtIn(id), 'A7', { sizes: [2, 5], home: 4, slants });
    battery(
      `on ${id} is the sum of feet, picking hand, bar and clarity, and these of their named terms`,
      { slice: 400, whole: found.length },
      ({ of }) => {
        for (const { effort } of of(found)) {
          expect(effort.total).toBeCloseTo(sum(PARTS.map((part) => effort[part])), 9);
          for (const part of PARTS) {
            const terms = effort.terms.filter((term) => term.part === part);
            // efforts are counted in thousandths
            const rest = effort[part] - sum(terms.map(({ value }) => value));
            expect(Math.abs(rest)).toBeLessThan(6e-4);
          }
          for (const { name, value } of effort.terms) {
            expect(name.trim()).not.toBe('');
            expect(name).not.toMatch(/undefined|NaN/);
            expect(value).toBeGreaterThan(0);
          }
        }
      },
    );
  }

  it('is a choice of balance: every part is multiplied by its factor', () => {
    const factor = fc.integer({ min: 0, max: 20 }).map((n) => n / 2);
    const found = ask(builtIn('e9'), 'A7', { home: 4, frets: [0, 5] });
    fc.assert(
      fc.property(
        fc.record({ feet: factor, picking: factor, bar: factor, clarity: factor }),
        fc.nat({ max: found.length - 1 }),
        (balance, place) => {
          const even = effortOf(found[place]?.effort.terms ?? [], EVEN);
          const shifted = effortOf(found[place]?.effort.terms ?? [], balance);
          for (const part of PARTS)
            expect(Math.abs(shifted[part] - balance[part] * even[part])).toBeLessThan(0.011);
          expect(shifted.total).toBeCloseTo(sum(PARTS.map((part) => shifted[part])), 9);
          expect(shifted.terms).toEqual(even.terms);
        },
      ),
    );
  });

  it('of nothing is nothing', () => {
    expect(effortOf([])).toMatchObject({
      total: 0,
      feet: 0,
      picking: 0,
      bar: 0,
      clarity: 0,
      terms: [],
    });
    for (const id of BUILT_IN_IDS) expect(feetEffort(builtIn(id), [])).toBe(0);
  });
});
