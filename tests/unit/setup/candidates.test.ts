import { describe, expect, it } from 'vitest';
import { builtIn } from '$lib/setup/builtIns';
import { candidatesOn, pullsOf } from '$lib/setup/candidates';

const e9 = builtIn('e9');
/** n over k. */
const choose = (n: number, k: number): number => (k === 0 ? 1 : (choose(n - 1, k - 1) * n) / k);

describe('candidates', () => {
  it.each([1, 2, 3])('are all sets of up to %i strings, each −3 … 3 without 0', (most) => {
    let count = 0;
    for (let size = 1; size <= most; size++) count += choose(10, size) * 6 ** size;
    expect(candidatesOn(e9, { stringsUpTo: most }).count).toBe(count);
  });

  it('each comes once, in a fixed order', () => {
    const all = candidatesOn(e9, { stringsUpTo: 2 });
    const texts = Array.from({ length: all.count }, (_, at) => JSON.stringify(pullsOf(all, at)));
    expect(new Set(texts).size).toBe(all.count);
    expect(pullsOf(all, 0)).toEqual([{ neck: 1, string: 1, semitones: -3 }]);
    expect(pullsOf(all, 60)).toEqual([
      { neck: 1, string: 1, semitones: -3 },
      { neck: 1, string: 2, semitones: -3 },
    ]);
  });

  it('hold what must be moved, and nothing that must not', () => {
    const five = { neck: 1, string: 5 };
    const four = { neck: 1, string: 4 };
    const all = candidatesOn(e9, { stringsUpTo: 2, must: [five], never: [four] });
    // string 5 alone, and with each of the eight that are left
    expect(all.count).toBe(6 + 8 * 36);
    for (let at = 0; at < all.count; at++) {
      const strings = pullsOf(all, at).map(({ string }) => string);
      expect(strings).toContain(5);
      expect(strings).not.toContain(4);
    }
  });

  it('move the strings of both necks of a double neck, or of one', () => {
    const double = builtIn('double');
    expect(candidatesOn(double, { stringsUpTo: 1 }).count).toBe(20 * 6);
    const second = candidatesOn(double, { stringsUpTo: 1, neck: 2 });
    expect(second.count).toBe(10 * 6);
    expect(pullsOf(second, 0)).toEqual([{ neck: 2, string: 1, semitones: -3 }]);
  });
});
