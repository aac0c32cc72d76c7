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

  it('does so whichever string it is, and under a turned bar too', () => {
    const strings = [3, 4, 5, 6, 8];
    for (const wrong of strings) {
      const straight = barOf(strings.map((string) => at(string, 2, string === wrong ? -40 : 0)));
      expect(straight?.mm, `string ${wrong}`).toBeCloseTo(2, 9);
      expect(straight?.turnMm).toBeCloseTo(0, 9);
      expect(straight?.apart[strings.indexOf(wrong)]).toBeCloseTo(-40, 6);
      // a fifth of a millimetre less from string to string: 1 mm from the third to the eighth, 1.5 in the middle
      const turned = barOf(
        strings.map((string) => at(string, 2 - 0.2 * (string - 3), string === wrong ? -40 : 0)),
      );
      expect(turned?.mm, `string ${wrong}`).toBeCloseTo(1.5, 9);
      expect(turned?.turnMm).toBeCloseTo(1, 9);
      expect(turned?.apart[strings.indexOf(wrong)]).toBeCloseTo(-40, 6);
    }
  });

  it('is not turned by one string', () => {
    const one = barOf([at(5, 1)]);
    expect([one?.mm, one?.turnMm]).toEqual([expect.closeTo(1, 9), 0]);
  });

  it('is not told where no string is heard', () => {
    expect(barOf([])).toBeUndefined();
  });
});
