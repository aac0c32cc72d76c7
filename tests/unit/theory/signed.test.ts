import { describe, expect, it } from 'vitest';
import { signOf, signed, signedToType } from '$lib/theory/signed';

describe('a number with its sign', () => {
  it('is read with a real minus, and without a sign where it rounds to nothing', () => {
    expect([2, -1, 0].map((value) => signed(value))).toEqual(['+2', '−1', '0']);
    expect([1.25, -13.686, -0.04, 0.04].map((value) => signed(value, 1))).toEqual([
      '+1.3',
      '−13.7',
      '0.0',
      '0.0',
    ]);
    expect([3, -3, 0].map(signOf)).toEqual(['+', '−', '']);
  });

  it('is typed with a hyphen', () => {
    expect([2, -1, 0].map(signedToType)).toEqual(['+2', '-1', '0']);
  });
});
