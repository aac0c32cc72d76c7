/** A piece typed in other names of notes, and with degrees (any textbook of harmony). */
import { describe, expect, it } from 'vitest';
import { pieceCalled, pieceInLetters } from '$lib/arrange/calledText';
import { readProgression } from '$lib/arrange/readText';
import { PIECE_SIGNS } from '$lib/arrange/textSigns';
import { parseKey } from '$lib/theory/spelling';

const chordsOf = (text: string, key?: string): string[] =>
  readProgression(text, key === undefined ? undefined : parseKey(key)).progression.bars.flatMap(
    ({ slots }) => slots.map(({ chord }) => (chord === 'no chord' ? '–' : chord.symbol)),
  );

const GERMAN = `title: Abend in B
key: Hm
# H bleibt hier
[B-Teil]
|: Hm . | B7:H4 Es/B % :|1. Fis ||
melody: H4 - | B D - | Cis`;
const LETTERS = `title: Abend in B
key: Bm
# H bleibt hier
[B-Teil]
|: Bm . | Bb7:B4 Eb/Bb % :|1. F# ||
melody: B4 - | Bb D - | C#`;

describe('the text of a piece', () => {
  it('is turned in its chords, its melody and its key, and nowhere else', () => {
    expect(pieceInLetters(GERMAN, PIECE_SIGNS, 'german')).toBe(LETTERS);
    expect(pieceCalled(LETTERS, PIECE_SIGNS, 'german')).toBe(GERMAN);
  });

  it('reads syllables with minor apart', () => {
    expect(chordsOf(pieceInLetters('La m | Si♭7 | Do', PIECE_SIGNS, 'solfege'))).toEqual([
      'Am',
      'Bb7',
      'C',
    ]);
  });

  it('reads degrees where a key is said, in the text or beside it', () => {
    expect(chordsOf('key: G\nI IV | V7/IV | vi | 4 5')).toEqual(['G', 'C', 'G7', 'Em', 'C', 'D']);
    expect(chordsOf('ii V7 | I', 'Eb')).toEqual(['Fm', 'Bb7', 'Eb']);
  });

  it('refuses them without a key, and what is two chords, and says what was likely meant', () => {
    for (const [text, meant] of [
      ['C | V7', ['G7']],
      ['C | H7', ['B7']],
      ['C | a?', ['Am', 'A']],
      ['key: C\nC | 2', ['Dm', 'D']],
    ] as const) {
      const [fault, ...more] = readProgression(text).faults;
      expect(more).toEqual([]);
      expect(fault?.meant).toEqual(meant);
      const { at = 0, length = 0 } = fault?.mark ?? {};
      expect(text.slice(at, at + length)).toBe(text.split(/\s/u).at(-1));
    }
  });
});
