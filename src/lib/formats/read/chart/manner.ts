/** How a chart as a whole is written: seen from all of its cells at once, and asked where it is open. */
import type { Doubts, Piece } from './doubts';
import type { Manner } from './pull';
import { pullTokens, type Placed } from './pullTokens';
import type { Written } from './reading';

/** The first piece for which something holds. */
const firstOf = (pieces: readonly Piece[], holds: (piece: Piece) => boolean): Piece | undefined =>
  pieces.find(holds);

const tokensOf = (piece: Piece): readonly Placed[] => pullTokens(piece.text) ?? [];

/** Heads and words in which a chart is German. */
const GERMAN_WORDS =
  /(?<!\p{L})(?:saiten?|ton|stimmung|stärke|knie|kniehebel|hebel|hebt|senkt)(?!\p{L})/iu;

function germanB(
  written: Written,
  pieces: readonly Piece[],
  text: string,
  doubts: Doubts,
): boolean {
  const strings = written.necks.flatMap((neck) => neck.strings);
  const notes = [
    ...strings.flatMap(({ note, piece }) => (note === undefined ? [] : [{ note, piece }])),
    ...pieces.flatMap((piece) =>
      tokensOf(piece).flatMap(({ token }) =>
        token.kind === 'note' && !/^[A-H]s$/u.test(piece.text) ? [{ note: token.note, piece }] : [],
      ),
    ),
  ];
  const isGerman = notes.some(({ note }) => note.isGerman);
  const first = notes.find(({ note }) => note.isB);
  if (first === undefined) return isGerman;
  if (!isGerman && !GERMAN_WORDS.test(text)) return false;
  const flat = { id: 'flat', says: 'B♭, as German names have it' };
  const natural = { id: 'natural', says: 'B' };
  // whoever writes F# rather than Fis may write B for H as well
  const isEnglish = !isGerman && notes.some(({ note }) => note.name.alter !== 0);
  const choices = isEnglish ? [natural, flat] : [flat, natural];
  return doubts.ask({ key: 'german', piece: first.piece, found: 'B', choices }) === 'flat';
}

function tones(pieces: readonly Piece[], doubts: Doubts): boolean {
  const amounts = pieces.flatMap((piece) =>
    tokensOf(piece).flatMap(({ token }) => (token.kind === 'amount' ? [{ token, piece }] : [])),
  );
  const numbers = amounts.filter(({ token }) => token.how === 'number');
  const first = numbers.find(({ token }) => token.size > 0);
  if (first === undefined || !amounts.some(({ token }) => token.how === 'fraction')) return false;
  const inTones = { id: 'tones', says: 'whole tones, since there are halves' };
  const inSemitones = { id: 'semitones', says: 'semitones' };
  // one and a half is said by those who count tones; where there is none, two is two semitones
  const countsTones = amounts.some(({ token }) => token.how === 'fraction' && token.size > 1);
  const isLarge = !countsTones && numbers.some(({ token }) => token.size > 1);
  return (
    doubts.ask({
      key: 'unit',
      piece: first.piece,
      choices: isLarge ? [inSemitones, inTones] : [inTones, inSemitones],
    }) === 'tones'
  );
}

const isHalf = (text: string): boolean => /^[+-]?1\/2$/.test(text.trim());

function halfIsStops(pieces: readonly Piece[], doubts: Doubts): boolean {
  const first = firstOf(pieces, ({ text }) => isHalf(text));
  if (first === undefined) return false;
  const isHabit = pieces.some(
    ({ text }) => /^[+-]?\d\/[+-]?\d$/.test(text.trim()) && !/1\/2$/.test(text.trim()),
  );
  const half = { id: 'half', says: 'half a tone: one semitone' };
  const stops = { id: 'stops', says: 'a half-stop at one semitone, then two' };
  return (
    doubts.ask({
      key: 'halves',
      piece: first,
      choices: isHabit ? [stops, half] : [half, stops],
    }) === 'stops'
  );
}

function dashIsBlank(written: Written, pieces: readonly Piece[], doubts: Doubts): boolean {
  const isDash = ({ text }: Piece): boolean => /^[-–—]$/u.test(text.trim());
  const first = firstOf(pieces, isDash);
  if (first === undefined) return false;
  const slots = written.necks.reduce(
    (sum, neck) => sum + neck.strings.length * neck.controls.length,
    0,
  );
  const dashes = pieces.filter(isDash).length;
  const others = pieces.filter((piece) => !isDash(piece));
  const marks = others.some(({ text }) => /^(?:\++|--+)$/.test(text.trim()));
  const isFull = dashes + others.length >= slots;
  if (isFull && dashes >= slots / 2) return true;
  if (marks && dashes < slots / 2) return false;
  const blank = { id: 'blank', says: 'no pull' };
  const lower = { id: 'lower', says: 'a semitone down' };
  const isBlank = others.length > 0 || dashes >= slots / 2;
  return (
    doubts.ask({
      key: 'dash',
      piece: first,
      choices: isBlank ? [blank, lower] : [lower, blank],
    }) === 'blank'
  );
}

/** The manner of a whole chart. */
export function mannerOf(written: Written, text: string, doubts: Doubts): Manner {
  const pieces = written.necks.flatMap((neck) => neck.pulls.map(({ piece }) => piece));
  const stops = halfIsStops(pieces, doubts);
  const amounts = stops ? pieces.filter(({ text: cell }) => !isHalf(cell)) : pieces;
  return {
    germanB: germanB(written, pieces, text, doubts),
    tones: tones(amounts, doubts),
    halfIsStops: stops,
    dashIsBlank: dashIsBlank(written, pieces, doubts),
  };
}
