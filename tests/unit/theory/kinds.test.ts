/**
 * Chords in the words of MusicXML 4.0, by hand from its definitions of "kind-value", "degree-alter" and
 * "degree-type": an added degree is counted from a dominant chord (so a major seventh is 7 raised by 1), an altered
 * or subtracted one from the degree that the kind has.
 */
import { describe, expect, it } from 'vitest';
import { degreesBeside, kindOf, type Degree } from '$lib/theory/kinds';

const written = (degrees: readonly Degree[]): string =>
  degrees.map(({ type, value, alter }) => `${type} ${value} ${alter}`).join(', ');

describe('the kind of a chord', () => {
  it.each([
    // what a kind says alone
    ['1 3 5', 'major', ''],
    ['1 b3 b5 b7', 'half-diminished', ''],
    ['1 b3 b5 bb7', 'diminished-seventh', ''],
    ['1 b3 5 7', 'major-minor', ''],
    ['1 5', 'power', ''],
    // added to it
    ['1 3 5 9', 'major', 'add 9 0'],
    ['1 b3 5 11', 'minor', 'add 11 0'],
    ['1 3 5 6 9', 'major-sixth', 'add 9 0'],
    ['1 3 5 b7 b9', 'dominant', 'add 9 -1'],
    ['1 3 5 b7 b9 #9', 'dominant', 'add 9 -1, add 9 1'],
    ['1 3 5 7 #11', 'major-seventh', 'add 11 1'],
    ['1 4 5 b7', 'suspended-fourth', 'add 7 0'],
    ['1 4 5 b7 9', 'suspended-fourth', 'add 7 0, add 9 0'],
    ['1 2 5 7', 'suspended-second', 'add 7 1'],
    ['1 b3 b5 bb7 7', 'diminished-seventh', 'add 7 1'],
    // a second fifth beside the raised one that the kind has
    ['1 3 b5 #5 b7', 'augmented-seventh', 'add 5 -1'],
    // altered in it
    ['1 3 b5 b7', 'dominant', 'alter 5 -1'],
    ['1 b3 #5 b7', 'minor-seventh', 'alter 5 1'],
    ['1 3 #5 7', 'major-seventh', 'alter 5 1'],
    ['1 3 #5 b7 #9', 'augmented-seventh', 'add 9 1'],
    // taken from it
    ['1 3', 'major', 'subtract 5 0'],
    ['1 3 5 b7 9 13', 'dominant-13th', 'subtract 11 0'],
    ['1 b3 5 b7 9 13', 'minor-13th', 'subtract 11 0'],
  ])('of %s is %s %s', (tones, kind, degrees) => {
    const found = kindOf(tones.split(' '));
    expect([found.kind, written(found.degrees)]).toEqual([kind, degrees]);
  });

  it('that is given says what is missing of it, and beside it', () => {
    const beside = (kind: string, tones: string): string =>
      written(degreesBeside(kind, tones.split(' ')));
    expect(beside('dominant', '1 5 b7')).toBe('subtract 3 0');
    expect(beside('dominant', '3 b7 9 13')).toBe('subtract 1 0, subtract 5 0, add 9 0, add 13 0');
    expect(() => degreesBeside('Tristan', ['1', '3'])).toThrow('Tristan');
  });
});
