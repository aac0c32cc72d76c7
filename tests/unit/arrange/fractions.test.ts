/** Parts of bars as metres and fractions, by hand. */
import { describe, expect, it } from 'vitest';
import { divisor, fractionOf, metreOfPart, partOfMetre, reduced } from '$lib/arrange/fractions';

const metre = (beats: number, unit: number) => ({ beats, unit });

describe('a part of a bar', () => {
  it.each([
    [4, 4, 1, 4, 4],
    [4, 4, 1 / 2, 2, 4],
    [4, 4, 3 / 8, 3, 8],
    [4, 4, 1 / 8, 1, 8],
    [3, 4, 1 / 4, 3, 16],
    [6, 8, 1 / 2, 3, 8],
    // thirds of four quarters are no notes: the nearest whole number of thirty-seconds
    [4, 4, 1 / 3, 11, 32],
  ])('of %i/%i, %f of it, is a bar of %i/%i', (beats, unit, part, partBeats, partUnit) => {
    expect(metreOfPart(metre(beats, unit), part)).toEqual(metre(partBeats, partUnit));
  });

  it('is what another metre is of a whole one', () => {
    expect(partOfMetre(metre(4, 4), metre(3, 4))).toBe(0.75);
    expect(partOfMetre(metre(4, 4), metre(6, 8))).toBe(0.75);
    expect(partOfMetre(metre(3, 4), metre(6, 4))).toBe(2);
  });

  it('is a fraction in its lowest terms', () => {
    expect(divisor(12, 18)).toBe(6);
    expect(reduced(6, 8)).toEqual({ parts: 3, over: 4 });
    expect([1 / 3, 0.75, 5 / 7, 2].map(fractionOf)).toEqual([
      { parts: 1, over: 3 },
      { parts: 3, over: 4 },
      { parts: 5, over: 7 },
      { parts: 2, over: 1 },
    ]);
  });
});
