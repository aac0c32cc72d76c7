/** Where the bar lies by how far strings are off. */
import { describe, expect, it } from 'vitest';
import { barOf, millimetresOf } from '$lib/hearing/bar';

/** The law of the string: a millimetre of 305 nearer to the bridge, 1200·log2(305/304). */
const A_MILLIMETRE = 1200 * Math.log2(305 / 304);
const at = (string: number, mm: number, more = 0) => ({
  string,
  lengthMm: 305,
  cents: 1200 * Math.log2(305 / (305 - mm)) + more,
});

describe('the bar', () => {
  it('lies a millimetre sharp where every string is sharp by a millimetre', () => {
    expect(A_MILLIMETRE).toBeCloseTo(5.686, 3);
    expect(millimetresOf(A_MILLIMETRE, 305)).toBeCloseTo(1, 9);
    const bar = barOf([3, 4, 5].map((string) => at(string, 1)));
    expect(bar?.mm).toBeCloseTo(1, 9);
    expect(bar?.turnMm).toBeCloseTo(0, 9);
  });

  it('is turned where the far strings are sharper than the near ones', () => {
    const bar = barOf([at(3, 2), at(4, 1.6), at(5, 1.2), at(8, 0)]);
    expect(bar?.turnMm).toBeCloseTo(2, 9);
    // the middle of strings 3 and 8
    expect(bar?.mm).toBeCloseTo(1, 9);
    expect(bar?.apart.every((cents) => Math.abs(cents) < 1e-6)).toBe(true);
  });

  it('leaves a string that a control pulls short of its stop beside its line', () => {
    const bar = barOf([at(3, -1), at(4, -1), at(5, -1, -15), at(6, -1)]);
    expect(bar?.mm).toBeCloseTo(-1, 9);
    expect(bar?.turnMm).toBeCloseTo(0, 9);
    expect(bar?.apart[2]).toBeCloseTo(-15, 6);
    expect(bar?.apart[0]).toBeCloseTo(0, 6);
  });

  it('is not told where no string is heard', () => {
    expect(barOf([])).toBeUndefined();
  });
});
