/**
 * Charts in lines: one for a string (`5 B: A +2, C +2`), one for a control (`LKL: 4 +1, 8 +1`), or
 * sentences (`Pedal A raises strings 5 and 10 a whole tone`), English or German.
 */
import { Lines } from './chartLines';
import { clauseOf, stationAt } from './clause';
import { linesOf } from './cutting';
import type { Piece } from './doubts';
import { listsIn } from './listColumns';
import { openNotesIn } from './openNotes';
import type { Written, WrittenString } from './reading';
import { readStationName } from './stationName';

const isOfControl = (text: string): boolean => clauseOf({ text, at: 0 })?.by === 'control';

/** Controls with a sign of their own, all in one line: `A=5,10 up B=3,6 up`. */
function namedIn(line: Piece): Piece[] | undefined {
  const heads = [...line.text.matchAll(/(?<=^|[\s/|,;])[\p{L}\d]{1,4}(?=\s?=)/gu)].filter(
    ([word]) => readStationName(word) !== undefined,
  );
  if (heads.length < LEAST_NAMED) return undefined;
  return [0, ...heads.map(({ index }) => index)].flatMap((from, index): Piece[] => {
    const to = heads[index]?.index ?? line.text.length;
    const text = line.text.slice(from, to).replace(/[\s/|,;]+$/u, '');
    return text.trim() === '' ? [] : [{ text, at: line.at + from }];
  });
}
const LEAST_NAMED = 3;

/** A line cut where another control begins: behind a full stop, a semicolon, or a comma in a sentence. */
function sentencesOf(line: Piece): Piece[] {
  const named = namedIn(line);
  if (named !== undefined) return named;
  const pieces: Piece[] = [];
  let from = 0;
  for (const match of line.text.matchAll(/[.;,]\s+(?:and\s+|und\s+)?(?=[\p{L}*])/gu)) {
    const before = line.text.slice(from, match.index);
    const rest = line.text.slice(match.index + match[0].length);
    if (/^\d{0,2}$/u.test(before.trim()) || !isOfControl(rest)) continue;
    if (match[0].startsWith(',') && !(isOfControl(before) && stationAt(rest, 0)?.name.station))
      continue;
    pieces.push({ text: before, at: line.at + from });
    from = match.index + match[0].length;
  }
  pieces.push({ text: line.text.slice(from), at: line.at + from });
  return pieces;
}

/** The sentences of a text: its lines, and where a line only goes on with the one before, both in one. */
function piecesOf(text: string): Piece[] {
  const lines: Piece[] = [];
  for (const { text: line, at } of linesOf(text)) {
    const before = lines.at(-1);
    const goesOn =
      before !== undefined &&
      !isOfControl(line) &&
      /[\p{L}\d,#]\s*$/u.test(before.text) &&
      /^(?:and|und|with|mit|to|from|or|plus|\p{Ll}{2,}) /u.test(line.trim()) &&
      before.text.split(' ').length > 6;
    if (goesOn)
      lines[lines.length - 1] = {
        text: text.slice(before.at, at + line.length).replace(/\n/gu, ' '),
        at: before.at,
      };
    else lines.push({ text: line, at });
  }
  return lines.flatMap(sentencesOf);
}

/** Leaders, brackets, a table's edges and stars are there for the eye. */
const FOR_THE_EYE = /(?<=\s)\.+(?=\s|$)|\.{3,}|[[\]{}]|^\s*\||\|\s*$|\*\*/gmu;

/** Spaces in the place of some parts of a text. */
function without(text: string, spans: readonly (readonly [number, number])[]): string {
  let rest = text;
  for (const [from, to] of spans)
    rest = rest.slice(0, from) + rest.slice(from, to).replace(/[^\n]/gu, ' ') + rest.slice(to);
  return rest;
}

/** The necks of a text in lines: another begins where open notes are given anew behind pulls. */
function necksIn(text: string): Lines[] {
  const lists = listsIn(text);
  let read = new Lines();
  const necks = [read];
  for (const piece of piecesOf(without(text, lists?.spans ?? []))) {
    if (piece.text.trim() === '') continue;
    const isAnew =
      (read.tuning !== undefined && isTuning(piece)) || isStringAgain(piece, read.strings);
    if (isAnew && read.pulls.length > 0) {
      read.end();
      read = new Lines();
      necks.push(read);
    }
    read.take(piece);
  }
  read.end();
  for (const listed of lists?.cells ?? []) necks[0]?.takeListed(listed);
  const last = necks.at(-1);
  // open notes of which nothing is said are no neck
  if (necks.length > 1 && last?.pulls.length === 0 && last.byNote.length === 0) {
    const piece = last.tuning?.[0]?.piece;
    necks.pop();
    if (piece !== undefined) necks.at(-1)?.leftOut.push(piece);
    necks.at(-1)?.beside.push(...last.beside);
  }
  return necks;
}

const isTuning = (piece: Piece): boolean =>
  clauseOf(piece) === undefined && openNotesIn(piece) !== undefined;

/** Is a line about a string whose open note is known, and gives that anew? */
function isStringAgain(piece: Piece, strings: ReadonlyMap<number, WrittenString>): boolean {
  const clause = clauseOf(piece);
  if (clause?.by !== 'string' || clause.label.note === undefined) return false;
  return strings.get((clause.label.number ?? 0) - 1)?.note !== undefined;
}

/** Reads a text line by line; `undefined` where no line speaks of controls. */
export function sentencesIn(chart: string): Written | undefined {
  const text = chart.replace(FOR_THE_EYE, (found) => ' '.repeat(found.length));
  const necks = necksIn(text);
  const beside = necks.flatMap((neck) => neck.beside);
  const sum = (count: (neck: Lines) => number): number =>
    necks.reduce((all, neck) => all + count(neck), 0);
  // a text in which a line here and there looks like one of a chart is none
  const lines = sum(
    ({ strings, unnumbered, controls }) => strings.size + unnumbered.length + controls.length,
  );
  if (sum(({ pulls, byNote }) => pulls.length + byNote.length) === 0) return undefined;
  if (beside.length > 4 + 4 * lines) return undefined;
  return {
    necks: necks.map((read) => ({
      strings: read.all(),
      controls: read.controls,
      pulls: read.pulls,
      byNote: read.byNote,
      leftOut: read.leftOut,
      turned: read.turned,
    })),
    beside,
    score: sum(({ score }) => score),
  };
}
