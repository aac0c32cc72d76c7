/** Texts with notes in them, in German names and syllables (any music primer; common practice). */
import { afterEach, describe, expect, it } from 'vitest';
import { prettySymbol } from '$lib/theory/display';
import { callNotes } from '$lib/theory/noteNames';
import { readChord } from '$lib/theory/readChord';
import { textCalled, textInLetters, type NotesIn } from '$lib/theory/typedText';

type Names = 'german' | 'solfege';

const TYPED: readonly (readonly [NotesIn, Names, typed: string, letters: string])[] = [
  ['note', 'german', 'H4', 'B4'],
  ['note', 'german', 'B', 'Bb'],
  ['note', 'solfege', 'Sol#3', 'G#3'],
  ['key', 'german', 'Es', 'Eb'],
  ['key', 'solfege', 'Lam', 'Am'],
  ['chords', 'german', 'Hm7 B Fis/Ais', 'Bm7 Bb F#/A#'],
  ['chords', 'german', 'Fism@3, H7', 'F#m@3, B7'],
  ['chords', 'solfege', 'Do Sim7 | Fa#', 'C Bm7 | F#'],
  ['notes', 'german', 'E4 H3 Gis3', 'E4 B3 G#3'],
  ['words', 'german', 'C/H', 'C/B'],
  ['words', 'german', '-1/-2', '-1/-2'],
  ['string', 'german', '9:Cis3', '9:C#3'],
  ['scale', 'german', 'Es mixolydian', 'Eb mixolydian'],
  ['scale', 'german', 'H7', 'B7'],
  ['scale', 'solfege', 'La minor pentatonic', 'A minor pentatonic'],
  ['scale', 'solfege', 'Sib7', 'Bb7'],
];

describe('a typed text', () => {
  it.each(TYPED)('of %s in %s: %s is %s, and back', (kind, names, typed, letters) => {
    expect(textInLetters(kind, typed, names)).toBe(letters);
    expect(textCalled(kind, letters, names)).toBe(typed);
    expect(textInLetters(kind, letters, 'letters')).toBe(letters);
  });

  it('of a scale knows Dur and Moll, and a minor that stands apart', () => {
    expect(textInLetters('scale', 'H dur', 'german')).toBe('B major');
    expect(textInLetters('scale', 'fis-Moll', 'german')).toBe('F# minor');
    expect(textInLetters('scale', 'La m7', 'solfege')).toBe('Am7');
    expect(textInLetters('scale', 'V7', 'german')).toBe('V7');
  });

  it('knows every chord that can be read for one, by its signs', () => {
    for (const suffix of [
      ...[
        '',
        'm',
        '7',
        'maj7',
        'Δ',
        'm7b5',
        'ø7',
        'dim7',
        '°',
        'aug',
        '+7',
        'sus4',
        '7sus2',
        'add9',
      ],
      ...[
        '6/9',
        '13(#11)',
        '7(b9, #11)',
        '7alt',
        'm(maj7)',
        '-7',
        '9no5',
        'omit3',
        'half-dim',
        '7#5#9',
      ],
    ]) {
      expect(readChord(`F#${suffix}/C#`).ok, suffix).toBe(true);
      expect(textCalled('chord', `F#${suffix}/C#`, 'german')).toBe(`Fis${suffix}/Cis`);
      expect(textInLetters('chord', `Fis${suffix}/Cis`, 'german')).toBe(`F#${suffix}/C#`);
    }
  });

  it('keeps what no name of notes says', () => {
    expect(textInLetters('chords', 'Xyz N.C. V7', 'german')).toBe('Xyz N.C. V7');
    expect(textCalled('chords', 'Xyz N.C. V7', 'german')).toBe('Xyz N.C. V7');
  });

  it('joins a syllable and the minor apart from it', () => {
    expect(textInLetters('chords', 'La m Re mi', 'solfege')).toBe('Am D E');
  });

  it('keeps a small German letter in doubt, and the reader offers both', () => {
    const letters = textInLetters('chords', 'a C', 'german');
    expect(letters).toBe('a? C');
    // typed once more from what is kept, the doubt stays one
    expect(textInLetters('chords', letters, 'german')).toBe('a? C');
    const read = readChord('a?');
    expect(read.ok ? [] : read.error.other?.readings).toEqual(['Am', 'A']);
  });
});

describe('how notes are called', () => {
  afterEach(() => callNotes(() => 'letters'));

  it('is asked of whoever stands at the border, shown and typed apart', () => {
    callNotes(
      () => 'german',
      () => 'solfege',
    );
    expect(prettySymbol('Bb7/F#')).toBe('B7/Fis');
    expect(textInLetters('chords', 'Si')).toBe('B');
    expect(textCalled('chords', 'B')).toBe('H');
  });
});
