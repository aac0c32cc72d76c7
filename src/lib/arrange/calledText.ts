/**
 * The text of a piece in the names of notes that its writer is used to. A piece is kept in letters; between a
 * field and what is kept its chords, its melody and its key are turned, and nothing else of the text is.
 */
import { shownNames, typedNames, type NoteNames } from '$lib/theory/noteNames';
import {
  chordWordCalled,
  chordWordInLetters,
  inWords,
  textCalled,
  textInLetters,
  type NotesIn,
} from '$lib/theory/typedText';
import { HEAD, MELODY, TOKENS, holdsNoChord } from './readText';

interface Turn {
  readonly line: (line: string) => string;
  readonly chord: (symbol: string) => string;
  readonly other: (kind: NotesIn, text: string) => string;
}

/** A chord, and the melody note behind it. */
function turnedWord(word: string, { chord, other }: Turn): string {
  if (/^:?\||^[[(./%]/u.test(word)) return word;
  const colon = word.indexOf(':');
  return colon < 0
    ? chord(word)
    : `${chord(word.slice(0, colon))}:${other('note', word.slice(colon + 1))}`;
}

function turnedLine(line: string, turn: Turn): string {
  if (/^\s*(#|$)/u.test(line)) return line;
  const melody = MELODY.exec(line);
  if (melody !== null) {
    const notes = (melody[2] ?? '').replace(/[^\s|]+/gu, (note) => turn.other('note', note));
    return (melody[1] ?? '') + notes;
  }
  const [, name = '', value = ''] = HEAD.exec(line) ?? [];
  if (name.toLowerCase() === 'key')
    return line.slice(0, line.length - value.length) + turn.other('key', value.trimEnd());
  if (holdsNoChord(line)) return line;
  return turn.line(line).replace(TOKENS, (word) => turnedWord(word, turn));
}

const turned = (text: string, turn: Turn): string =>
  text
    .split('\n')
    .map((line) => turnedLine(line, turn))
    .join('\n');

/** The text of a piece as it was typed, in letters. */
export const pieceInLetters = (text: string, names: NoteNames = typedNames()): string =>
  names === 'letters'
    ? text
    : turned(text, {
        line: (line) => inWords(line, names),
        chord: (symbol) => chordWordInLetters(symbol, names),
        other: (kind, part) => textInLetters(kind, part, names),
      });

/** The text of a piece in letters as its reader would type it. */
export const pieceCalled = (text: string, names: NoteNames = shownNames()): string =>
  names === 'letters'
    ? text
    : turned(text, {
        line: (line) => line,
        chord: (symbol) => chordWordCalled(symbol, names),
        other: (kind, part) => textCalled(kind, part, names),
      });
