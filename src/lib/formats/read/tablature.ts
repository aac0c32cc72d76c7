/**
 * Tablature as lessons and messages have it, as positions on a setup: staves of a line a string with frets
 * and controls on it (`3 --8A--`), or a line a position (`8 A,B 3-4-5`).
 */
import { fault } from '$lib/chartFaults';
import { guarded } from '$lib/documentFaults';
import type { DocumentFault } from '$lib/faults';
import { ok, refuse, type Result } from '$lib/result';
import type { Hold } from '$lib/search/hold';
import { unreachable } from '$lib/setup/reach';
import { hasHalf, type Engaged, type Setup } from '$lib/setup/setup';
import { chromaOf, chromaOfName, parseNoteName } from '$lib/theory/pitch';
import { Doubts, type Doubt, type Piece } from './chart/doubts';

export interface TablatureReading {
  /** In the order in which they are played, on the first neck. */
  readonly positions: readonly Hold[];
  readonly doubts: readonly Doubt[];
}

/** What is longer is no lesson. */
const MOST_CHARACTERS = 100_000;
const MOST_LINES = 2000;
const LONGEST_LINE = 1000;

interface Line extends Piece {
  readonly number: number;
}

/** One fret on one string, with what is pressed for it. */
interface Note {
  readonly column: number;
  readonly string: number;
  readonly fret: number;
  readonly engaged: readonly Engaged[];
  readonly piece: Piece;
}

/** The controls that letters behind a fret name: `A`, `AB`, `A,RKR`, `(F)`; `½` or `/2` is half. */
function engagedIn(setup: Setup, piece: Piece, doubts: Doubts): Engaged[] {
  const engaged: Engaged[] = [];
  const names = setup.controls
    .flatMap((control) => [
      { name: control.id, control },
      { name: control.station, control },
    ])
    .sort((a, b) => b.name.length - a.name.length);
  let rest = piece.text;
  while (rest !== '') {
    const skipped = /^[\s,+()&.~'-]+/u.exec(rest)?.[0].length ?? 0;
    rest = rest.slice(skipped);
    if (rest === '') break;
    const found = names.find(({ name }) => rest.toUpperCase().startsWith(name.toUpperCase()));
    if (found === undefined) {
      const unknown = /^\p{L}+\d*|^./u.exec(rest)?.[0] ?? rest;
      doubts.tell({
        key: `control:${piece.at}:${unknown}`,
        piece,
        found: unknown,
        read: 'nothing: the setup has no such control',
      });
      rest = rest.slice(unknown.length);
      continue;
    }
    rest = rest.slice(found.name.length);
    const half = /^(?:½|\/2|:half|h(?![a-z]))/u.exec(rest)?.[0].length ?? 0;
    rest = rest.slice(half);
    const state = half > 0 && hasHalf(found.control) ? 'half' : 'full';
    if (!engaged.some(({ id }) => id === found.control.id))
      engaged.push({ id: found.control.id, state });
  }
  return engaged;
}

const STAVE = /^(\s*(?:\d{1,2}|[A-Ga-g][#b]?)?\s*[|:]?\s*)([-|=\d][-|=\d\p{L}()½/\\~^,+. ]*)$/u;

/** A line of a stave: its label, and where its own part begins. */
function staveLine(line: Line): { label: string; body: string; from: number } | undefined {
  if ((line.text.match(/[-=]/gu) ?? []).length < 3) return undefined;
  const match = STAVE.exec(line.text.trimEnd());
  if (match === null) return undefined;
  const [, before = '', body = ''] = match;
  return { label: before.replace(/[|:\s]/gu, ''), body, from: before.length };
}

/** The strings that the lines of a stave are for, 1 … n: by number, by note, else in their order. */
function stringsOf(
  setup: Setup,
  labels: readonly string[],
  piece: Piece,
  doubts: Doubts,
): number[] {
  const strings = setup.necks[0]?.strings ?? [];
  if (labels.every((label) => /^\d+$/.test(label))) return labels.map(Number);
  let from = 0;
  const byNote = labels.map((label) => {
    const name = parseNoteName(label);
    const at = strings.findIndex(
      ({ open }, index) =>
        index >= from && name !== undefined && chromaOf(open.midi) === chromaOfName(name),
    );
    from = at + 1;
    return at + 1;
  });
  if (byNote.every((string) => string > 0)) return byNote;
  if (labels.length !== strings.length)
    doubts.tell({
      key: `strings:${piece.at}`,
      piece,
      found: `${labels.length} lines without numbers`,
      read: `strings 1 to ${labels.length}`,
    });
  return labels.map((_, index) => index + 1);
}

/** The notes of one stave. */
function notesOf(setup: Setup, stave: readonly Line[], doubts: Doubts): Note[] {
  const lines = stave.flatMap((line) => {
    const read = staveLine(line);
    return read === undefined ? [] : [{ ...read, line }];
  });
  const first = lines[0]?.line;
  if (first === undefined) return [];
  const strings = stringsOf(
    setup,
    lines.map(({ label }) => label),
    first,
    doubts,
  );
  const count = setup.necks[0]?.strings.length ?? 0;
  return lines.flatMap(({ body, from, line }, index) =>
    [...body.matchAll(/(\d{1,2})((?:[\p{L}(),+½]|\/2)*)/gu)].flatMap((match): Note[] => {
      const piece = { text: match[0], at: line.at + from + match.index };
      const fret = Number(match[1]);
      const string = strings[index] ?? 0;
      if (fret > setup.frets || string < 1 || string > count) {
        doubts.tell({
          key: `off:${piece.at}`,
          piece,
          read: 'nothing: the setup has no such string or fret',
        });
        return [];
      }
      const letters = { text: match[2] ?? '', at: piece.at + (match[1]?.length ?? 0) };
      const engaged = engagedIn(setup, letters, doubts);
      return [{ column: from + match.index, string, fret, engaged, piece }];
    }),
  );
}

/** The notes that stand above one another are played together. */
function columnsOf(notes: readonly Note[]): Note[][] {
  const columns: Note[][] = [];
  for (const note of notes.toSorted((a, b) => a.column - b.column || a.string - b.string)) {
    const here = columns.at(-1);
    const isHere =
      here?.[0] !== undefined &&
      note.column - here[0].column <= 1 &&
      here.every(({ string }) => string !== note.string);
    if (isHere) here.push(note);
    else columns.push([note]);
  }
  return columns;
}

/** What a column asks of the hands: one fret, all that is pressed for any of its strings. */
function positionOf(setup: Setup, column: readonly Note[], doubts: Doubts): Hold | undefined {
  const [first] = column;
  if (first === undefined) return undefined;
  const frets = column.map(({ fret }) => fret);
  const count = (fret: number): number => frets.filter((each) => each === fret).length;
  const fret = frets.reduce((best, each) => (count(each) > count(best) ? each : best));
  const played = column.filter((note) => note.fret === fret);
  for (const { piece } of column.filter((note) => note.fret !== fret))
    doubts.tell({
      key: `fret:${piece.at}`,
      piece,
      read: `nothing: the bar lies at fret ${fret} there`,
    });
  const engaged: Engaged[] = [];
  for (const each of played.flatMap((note) => note.engaged))
    if (!engaged.some(({ id }) => id === each.id)) engaged.push(each);
  const strings = played.map(({ string }) => string).sort((a, b) => a - b);
  return held(setup, { neck: 1, fret, slant: 0, strings, engaged }, first.piece, doubts);
}

/** A position that the legs can hold; where they cannot, the controls are left out and told. */
function held(setup: Setup, hold: Hold, piece: Piece, doubts: Doubts): Hold {
  const why = unreachable(setup, hold.engaged);
  if (why === undefined) return hold;
  doubts.tell({
    key: `reach:${piece.at}`,
    piece,
    found: hold.engaged.map(({ id }) => id).join('+'),
    read: 'no control: they cannot be held together',
  });
  return { ...hold, engaged: [] };
}

/** `8 A,B 3-4-5`, `fret 3: 4-5-6`: fret, controls, strings. */
const LISTED =
  /^\s*(?:fret |bund )?(\d{1,2})\s*[:|/]?\s*([\p{L}][\p{L}\d,+½ :]*?|-(?=\s))?\s*[:|/]?\s*(?:strings? |saiten? )?(\d{1,2}(?:\s*[-,]\s*\d{1,2}){0,9})\s*$/iu;

function listedIn(setup: Setup, line: Line, doubts: Doubts): Hold | undefined {
  const match = LISTED.exec(line.text);
  if (match === null) return undefined;
  const [, fretText = '', controls = '', grip = ''] = match;
  const fret = Number(fretText);
  const strings = [...new Set(grip.split(/[-,]/u).map(Number))].sort((a, b) => a - b);
  const count = setup.necks[0]?.strings.length ?? 0;
  if (fret > setup.frets || strings.some((string) => string < 1 || string > count)) {
    doubts.tell({
      key: `off:${line.at}`,
      piece: line,
      read: 'nothing: the setup has no such string or fret',
    });
    return undefined;
  }
  const at = line.at + line.text.indexOf(controls);
  const engaged = engagedIn(setup, { text: controls, at }, doubts);
  return held(setup, { neck: 1, fret, slant: 0, strings, engaged }, line, doubts);
}

function readWithin(text: string, setup: Setup): Result<TablatureReading, DocumentFault> {
  const plain = text.replace(/[–—−]/gu, '-').replace(/[♯]/gu, '#').replace(/\t|\r/gu, ' ');
  const texts = plain.split('\n');
  if (
    text.length > MOST_CHARACTERS ||
    texts.length > MOST_LINES ||
    texts.some(({ length }) => length > LONGEST_LINE)
  )
    return refuse(fault('chart.tooMuch', '', MOST_LINES, LONGEST_LINE));
  const doubts = new Doubts({});
  const positions: Hold[] = [];
  let stave: Line[] = [];
  const close = (): void => {
    // one line of dashes alone is a rule
    if (stave.length > 1 || stave.some((line) => /\d\s*[-|]+\d/u.test(line.text)))
      for (const column of columnsOf(notesOf(setup, stave, doubts))) {
        const position = positionOf(setup, column, doubts);
        if (position !== undefined) positions.push(position);
      }
    stave = [];
  };
  let at = 0;
  for (const [index, each] of texts.entries()) {
    const line = { text: each, at, number: index + 1 };
    at += each.length + 1;
    const isListed = LISTED.test(line.text);
    if (!isListed && staveLine(line) !== undefined) {
      stave.push(line);
      continue;
    }
    close();
    const listed = isListed ? listedIn(setup, line, doubts) : undefined;
    if (listed !== undefined) positions.push(listed);
  }
  close();
  return positions.length === 0
    ? refuse(fault('tablature.none', ''))
    : ok({ positions, doubts: doubts.list(text) });
}

/** Reads tablature for a setup; what cannot be read of it is told, a text without any is refused. */
export const readTablature = (
  text: string,
  setup: Setup,
): Result<TablatureReading, DocumentFault> =>
  guarded(
    'tablature',
    (each: DocumentFault) => each,
    () => readWithin(text, setup),
  );
