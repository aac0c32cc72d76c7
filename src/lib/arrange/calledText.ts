/**
 * The text of a piece in the names of notes that its writer is used to. A piece is kept in letters; between a
 * field and what is kept its chords, its melody and its key are turned, and nothing else of the text is.
 */
import type { NotesIn, TypedTexts } from '$lib/theory/typedText';
import { HEAD, MELODY, TOKENS, holdsNoChord } from './readText';

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

function turnedLine(line: string, turn: Turn): string {
  if (/^\s*(#|$)/u.test(line)) return line;
  const melody = MELODY.exec(line);
  if (melody !== null) {
    const notes = (melody[2] ?? '').replace(/[^\s|]+/gu, (note) => turn('note', note));
    return (melody[1] ?? '') + notes;
  }
  const [, name = '', value = ''] = HEAD.exec(line) ?? [];
  if (name.toLowerCase() === 'key')
    return line.slice(0, line.length - value.length) + turn('key', value.trimEnd());
  if (holdsNoChord(line)) return line;
  return line.replace(TOKENS, (word) => turnedWord(word, turn));
}

const turned = (text: string, turn: Turn, joined = (line: string): string => line): string =>
  text
    .split('\n')
    .map((line) => turnedLine(holdsNoChord(line) ? line : joined(line), turn))
    .join('\n');

/**
 * The text of a piece as it was typed, in letters.
 *
 * @param texts what reads other names; without it the text is in letters
 */
export const pieceInLetters = (text: string, texts: TypedTexts | undefined): string =>
  texts === undefined ? text : turned(text, texts.textInLetters, texts.inWords);

/** The text of a piece in letters as its reader would type it. */
export const pieceCalled = (text: string, texts: TypedTexts | undefined): string =>
  texts === undefined ? text : turned(text, texts.textCalled);
