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
import type { Engaged, Setup } from '$lib/setup/setup';
import { chromaOf, chromaOfName, parseNoteName } from '$lib/theory/pitch';
import { Doubts, type Doubt, type Piece } from './chart/doubts';
import { controlsLine, engagedIn, type Over } from './tablatureControls';

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

const STAVE = /^(\s*(?:\d{1,2}|[A-Ga-g][#b]?)?\s*[|:]?\s*)([-|=\d.][-|=\d\p{L}()½/\\~^,+. ]*)$/u;

/** A line of a stave: its label, and where its own part begins. */
function staveLine(line: Line): { label: string; body: string; from: number } | undefined {
  // drawn with dashes, or with dots in groups
  if ((line.text.match(/[-=]/gu) ?? []).length < 3 && !/\.{2}.*\.{2}/u.test(line.text))
    return undefined;
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
function notesOf(setup: Setup, stave: readonly Line[], remarks: Piece[], doubts: Doubts): Note[] {
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
  for (const { body, from, line } of lines)
    for (const match of body.matchAll(/(?<![\p{L}\d(])\p{L}{2,}[\p{L} ]*/gu))
      remarks.push({ text: match[0].trim(), at: line.at + from + match.index });
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
function positionOf(
  setup: Setup,
  column: readonly Note[],
  above: readonly Engaged[],
  doubts: Doubts,
): Hold | undefined {
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
  for (const each of [...above, ...played.flatMap((note) => note.engaged)])
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

/** `8  3,4,5  A,B`: fret, strings, controls. */
const LISTED_LAST =
  /^\s*(?:fret |bund )?(\d{1,2})\s*[:|/]?\s+(?:strings? |saiten? )?(\d{1,2}(?:[-,]\s?\d{1,2}){1,9})\s*[:|/]?\s+([\p{L}][\p{L}\d,+½ ]*?)\s*$/iu;

const isListed = (text: string): boolean => LISTED.test(text) || LISTED_LAST.test(text);

function listedIn(setup: Setup, line: Line, doubts: Doubts): Hold | undefined {
  const match = LISTED.exec(line.text);
  const last = LISTED_LAST.exec(line.text);
  const [, fretText = '', controls = '', grip = ''] = match ?? [
    last?.[0],
    last?.[1],
    last?.[3],
    last?.[2],
  ];
  if (match === null && last === null) return undefined;
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

/** Which controls of the line above each column takes: those that stand nearest to it. */
function aboveColumns(
  setup: Setup,
  columns: readonly (readonly Note[])[],
  over: readonly Over[],
  doubts: Doubts,
): Engaged[][] {
  const above: Engaged[][] = columns.map(() => []);
  for (const { column, piece } of over) {
    const off = columns.map((notes) => Math.abs((notes[0]?.column ?? 0) - column));
    const best = off.indexOf(Math.min(...off));
    if (best < 0 || (off[best] ?? 0) > FARTHEST_OVER)
      doubts.tell({ key: `over:${piece.at}`, piece, read: 'nothing: no fret stands under it' });
    else above[best]?.push(...engagedIn(setup, piece, doubts));
  }
  return above;
}
/** Characters that a control may stand beside the fret that it is for. */
const FARTHEST_OVER = 2;

/** Tells the lines that were not read though they have to do with strings; songs and plain words lie between. */
function tellRemarks(setup: Setup, remarks: readonly Piece[], doubts: Doubts): void {
  const names = setup.controls.flatMap(({ id, station }) => [id, station]);
  for (const each of remarks) {
    const text = each.text.trim();
    const piece = { text, at: each.at + each.text.indexOf(text) };
    const speaks =
      /\d/u.test(text) ||
      text.split(/[^\p{L}\d]+/u).some((word) => word !== 'A' && names.includes(word));
    if (speaks && !COUNT_LINE.test(text))
      doubts.tell({
        key: `beside:${piece.at}`,
        piece,
        read: 'nothing: a line that could not be read',
      });
  }
}
/** Beats counted over or under a stave: `1 2 3 4`, `1 & 2 &`. */
const COUNT_LINE = /^1(?:\s*(?:[+&]|and|e|a|[2-9]|1[0-6])(?=\s|$))+$/iu;

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
  const remarks: Piece[] = [];
  let stave: Line[] = [];
  let over: readonly Over[] = [];
  const close = (): void => {
    // one line of dashes alone is a rule
    if (stave.length > 1 || stave.some((line) => /\d\s*[-|.]+\d/u.test(line.text))) {
      const columns = columnsOf(notesOf(setup, stave, remarks, doubts));
      const above = aboveColumns(setup, columns, over, doubts);
      for (const [index, column] of columns.entries()) {
        const position = positionOf(setup, column, above[index] ?? [], doubts);
        if (position !== undefined) positions.push(position);
      }
    } else {
      remarks.push(...stave);
      remarks.push(...over.map(({ piece }) => piece));
    }
    stave = [];
    over = [];
  };
  let at = 0;
  for (const [index, each] of texts.entries()) {
    const line = { text: each, at, number: index + 1 };
    at += each.length + 1;
    if (!isListed(line.text) && staveLine(line) !== undefined) {
      stave.push(line);
      continue;
    }
    close();
    const listed = isListed(line.text) ? listedIn(setup, line, doubts) : undefined;
    if (listed !== undefined) positions.push(listed);
    else if (!isListed(line.text)) {
      const above = controlsLine(setup, line);
      if (above !== undefined) over = above;
      else remarks.push(line);
    }
  }
  close();
  tellRemarks(setup, remarks, doubts);
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
