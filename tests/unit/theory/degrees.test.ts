import { describe, expect, it } from 'vitest';
import { degreeChroma, degreeName, degreeOfInterval, inDegreeOrder } from '$lib/theory/degrees';
import { nameText, parseNoteName } from '$lib/theory/pitch';

const name = (root: string, degree: string): string => {
  const parsed = parseNoteName(root);
  if (!parsed) throw new Error(root);
  return nameText(degreeName(parsed, degree));
};

describe('degrees', () => {
  it('are so many semitones above the root', () => {
    // Counted on the major scale 0 2 4 5 7 9 11.
    const known = { '1': 0, b3: 3, '3': 4, '#4': 6, b5: 6, '#5': 8, bb7: 9, b7: 10, '7': 11 };
    for (const [degree, chroma] of Object.entries(known)) expect(degreeChroma(degree)).toBe(chroma);
    for (const [high, low] of [
      ['9', '2'],
      ['11', '4'],
      ['13', '6'],
    ] as const) {
      expect(degreeChroma(high)).toBe(degreeChroma(low));
    }
  });

  it('are spelled by counting letters', () => {
    expect(name('C', 'bb7')).toBe('Bbb');
    expect(name('F#', '7')).toBe('E#');
    expect(name('F#', '#11')).toBe('B#');
    expect(name('Db', 'b3')).toBe('Fb');
    expect(name('Bbb', '3')).toBe('Db');
  });

  it('fall back to the plainest name where three flats or sharps would be needed', () => {
    expect(name('Cb', 'bb7')).toBe('Ab');
    expect(name('D##', '#5')).toBe('C');
  });

  it('are read from intervals: minor, diminished and augmented', () => {
    const read = ['1P', '3m', '5d', '7d', '7m', '11A', '13m'].map(degreeOfInterval);
    expect(read).toEqual(['1', 'b3', 'b5', 'bb7', 'b7', '#11', 'b13']);
  });

  it('stand in order of number, then from flat to sharp', () => {
    expect(inDegreeOrder(['13', '#9', 'b9', '1', 'b7'])).toEqual(['1', 'b7', 'b9', '#9', '13']);
  });

  it('are ours: other text is a mistake', () => {
    expect(() => degreeChroma('H')).toThrow('A degree such as');
    expect(() => degreeOfInterval('P1')).toThrow('An interval such as');
  });
});
