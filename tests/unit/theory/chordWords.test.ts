/** Chords in lists, as fields take them; and what one in another notation likely means there. */
import { describe, expect, it } from 'vitest';
import { chordsMeant, chordWords } from '$lib/theory/chordWords';
import { readChord } from '$lib/theory/readChord';
import { keyOtherwise, noteOtherwise } from '$lib/theory/typedNames';

/** The lists that are offered for the first word that is no chord. */
function offered(text: string): string[] {
  for (const word of chordWords(text)) {
    const read = readChord(word.split('@')[0] ?? '');
    if (!read.ok) return chordsMeant(text, read.error).map((each) => each.text);
  }
  return [];
}

describe('a list of chords', () => {
  it('has its words between spaces, bar lines, and commas outside brackets', () => {
    expect(chordWords('C, Am7 | G7(b9,13) |F')).toEqual(['C', 'Am7', 'G7(b9,13)', 'F']);
  });

  it.each([
    // by hand: German H is B, Es is E flat; Sol is G; of C the second degree is D minor, the sixth A
    ['C H7 F', ['C B7 F']],
    ['Es', ['Eb']],
    ['C | Sol7', ['C | G7']],
    ['C La m', ['C Am']],
    ['ii7 G7', ['Dm7 G7']],
    ['Hm H7', ['Bm H7']],
    ['H7@3 C', ['B7@3 C']],
    ['C Qx', []],
  ])('%s is offered as %j', (text, lists) => {
    expect(offered(text)).toEqual(lists);
  });
});

describe('one note or key in other names', () => {
  it.each([
    ['H', 'B'],
    ['Es4', 'Eb4'],
    ['As', 'Ab'],
    ['Fis', 'F#'],
    ['Sol', 'G'],
    ['La3', 'A3'],
    ['V', undefined],
  ])('the note %s is %s', (text, letters) => {
    expect(noteOtherwise(text)?.letters).toBe(letters);
  });

  it.each([
    ['Es', 'Eb'],
    ['h-Moll', 'Bm'],
    ['La m', 'Am'],
    ['B-Dur', 'Bb'],
    ['Sol', 'G'],
    ['IV', undefined],
  ])('the key %s is %s', (text, letters) => {
    expect(keyOtherwise(text)?.letters).toBe(letters);
  });
});
