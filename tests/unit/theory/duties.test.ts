/** What tones are for: their roles by number, as harmony textbooks name them, and which a chord cannot do without. */
import { describe, expect, it } from 'vitest';
import { bassDegree, isMust, roleOf } from '$lib/theory/duties';

describe('the role of a degree', () => {
  it.each([
    ['root', '1'],
    // a suspended tone stands in the third’s place
    ['third', '3 b3 2 4'],
    ['fifth', '5 b5 #5'],
    ['seventh', '7 b7 bb7'],
    ['sixth', '6'],
    ['extension', '9 11 13'],
    ['alteration', 'b9 #9 #11 b13 b6'],
  ])('%s is that of %s', (role, degrees) => {
    for (const degree of degrees.split(' ')) expect(roleOf(degree), degree).toBe(role);
  });
});

describe('a chord', () => {
  it.each([
    // all of a bare fifth; the stack below an eleventh or thirteenth is understood over a seventh only
    ['1 5', '1 5'],
    ['1 3 5', '3'],
    ['1 b3 b5', 'b3 b5'],
    ['1 3 5 9', '3 9'],
    ['1 3 5 9 13', '3 9 13'],
    ['1 3 5 b7 9', '3 b7 9'],
    ['1 b3 5 b7 9 11', 'b3 b7 11'],
    ['1 3 5 7 9 11 13', '3 7 13'],
    ['1 3 5 b7 b9 13', '3 b7 b9 13'],
  ])('of %s needs %s', (all, needed) => {
    const tones = all.split(' ');
    expect(tones.filter((degree) => isMust(degree, tones)).join(' ')).toBe(needed);
  });
});

it('a bass outside of a chord is called by its distance above the root', () => {
  expect([0, 3, 6, 8, 11].map(bassDegree)).toEqual(['1', 'b3', '#11', 'b13', '7']);
  for (const outside of [-1, 12]) expect(() => bassDegree(outside)).toThrow(String(outside));
});
