/**
 * The text of a piece in the names of notes that its writer is used to. A piece is kept in letters; between a
 * field and what is kept its chords, its melody and its key are turned, and nothing else of the text is.
 */
import { shownNames, typedNames, type NoteNames } from '$lib/theory/noteNames';
import { inWords, textCalled, textInLetters, type NotesIn } from '$lib/theory/typedText';
import type { PieceSigns } from './textSigns';

/** Turns a part of a text. */
type Turn = (kind: NotesIn, text: string) => string;

/** A chord, and the melody note behind it. */
function turnedWord(word: string, turn: Turn): string {
  if (/^:?\||^[[(./%]/u.test(word)) return word;
  const colon = word.indexOf(':');
  return colon < 0
    ? turn('chord', word)
    : `${turn('chord', word.slice(0, colon))}:${turn('note', word.slice(colon + 1))}`;
}

function turnedLine(line: string, signs: PieceSigns, turn: Turn): string {
  if (/^\s*(#|$)/u.test(line)) return line;
  const melody = signs.melody.exec(line);
  if (melody !== null) {
    const notes = (melody[2] ?? '').replace(/[^\s|]+/gu, (note) => turn('note', note));
    return (melody[1] ?? '') + notes;
  }
  const [, name = '', value = ''] = signs.head.exec(line) ?? [];
  if (name.toLowerCase() === 'key')
    return line.slice(0, line.length - value.length) + turn('key', value.trimEnd());
  if (signs.holdsNoChord(line)) return line;
  return line.replace(signs.tokens, (word) => turnedWord(word, turn));
}

const turned = (text: string, signs: PieceSigns, turn: Turn): string =>
  text
    .split('\n')
    .map((line) => turnedLine(line, signs, turn))
    .join('\n');

/**
 * The text of a piece as it was typed, in letters.
 *
 * @param signs what is which in it, of the reader of pieces: without that this is small and soon fetched
 */
export const pieceInLetters = (
  text: string,
  signs: PieceSigns,
  names: NoteNames = typedNames(),
): string => {
  const joined = text
    .split('\n')
    .map((line) => (signs.holdsNoChord(line) ? line : inWords(line, names)))
    .join('\n');
  return names === 'letters'
    ? text
    : turned(joined, signs, (kind, part) => textInLetters(kind, part, names));
};

/** The text of a piece in letters as its reader would type it. */
export const pieceCalled = (
  text: string,
  signs: PieceSigns,
  names: NoteNames = shownNames(),
): string =>
  names === 'letters' ? text : turned(text, signs, (kind, part) => textCalled(kind, part, names));
