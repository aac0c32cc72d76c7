/** Note names as charts have them: `F#`, `Fb`, `F#4`; and the German ones, `Fis`, `Es`, `H`. */
import { noteName, parseNoteName, type Letter, type NoteName } from '$lib/theory/pitch';

export interface NoteWord {
  readonly name: NoteName;
  readonly octave: number | undefined;
  /** Written as only German writes it. */
  readonly isGerman: boolean;
  /** `B`, which is B flat where names are German. */
  readonly isB: boolean;
}

const ENDINGS: Readonly<Record<string, number>> = { isis: 2, is: 1, eses: -2, es: -1, s: -1 };

/** Reads a note's name, perhaps with its octave (C4 is middle C); `undefined` where it is none. */
export function readNoteWord(text: string): NoteWord | undefined {
  const match = /^([A-Ha-h](?:isis|is|eses|es|s|##?|bb?|x)?)(-?\d)?$/u.exec(text);
  if (match === null) return undefined;
  const [, word = '', digit] = match;
  const octave = digit === undefined ? undefined : Number(digit);
  const plain = parseNoteName(word);
  if (plain !== undefined)
    return { name: plain, octave, isGerman: false, isB: plain.letter === 'B' && plain.alter === 0 };
  const german = /^([a-h])(isis|is|eses|es|s)?$/u.exec(word.toLowerCase());
  if (german === null) return undefined;
  const [, letter = '', ending] = german;
  if (ending === 's' && letter !== 'a' && letter !== 'e') return undefined;
  if (letter === 'h' && ending !== undefined && ending !== 'is') return undefined;
  const upper = (letter === 'h' ? 'B' : letter.toUpperCase()) as Letter;
  return {
    name: noteName(upper, ending === undefined ? 0 : (ENDINGS[ending] ?? 0)),
    octave,
    isGerman: true,
    isB: false,
  };
}

/** The name that a note word means, its `B` read the German way or not. */
export const nameOfWord = (word: NoteWord, germanB: boolean): NoteName =>
  word.isB && germanB ? noteName('B', -1) : word.name;
