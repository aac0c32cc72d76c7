import { describe, expect, it } from 'vitest';
import { looksLikeNotes, readNotes } from '$lib/theory/readNotes';
import { pitchText } from '$lib/theory/pitch';

const read = (text: string): string => {
  const notes = readNotes(text);
  if (!notes.ok) return `${notes.error.found}!`;
  return `${notes.value.pitches.map(pitchText).join(' ')}${notes.value.exact ? '' : ' or so'}`;
};

describe('typed notes', () => {
  it.each([
    ['C4 E4 Bb4 D5', 'C4 E4 Bb4 D5'],
    ['c4, eb4, g4', 'C4 Eb4 G4'],
    // each the nearest above the one before
    ['C E G C', 'C4 E4 G4 C5 or so'],
    ['G C E', 'G4 C5 E5 or so'],
    ['B♭ D F', 'Bb4 D5 F5 or so'],
    ['C4 E G', 'C4!'],
    ['C E X', 'X!'],
    ['C', 'C!'],
    ['', '!'],
  ])('“%s” are %s', (text, notes) => {
    expect(read(text)).toBe(notes);
  });

  it('are told from a chord', () => {
    for (const text of ['C E G', 'C4 E4', 'Bb D F Ab']) expect(looksLikeNotes(text)).toBe(true);
    for (const text of ['C', 'C7', 'C b5', 'C (b9)', 'A7 D7', 'La m', ''])
      expect(looksLikeNotes(text)).toBe(false);
  });
});
