/** Staves of tablature: a line a string, with frets and controls on it; what stands above one another is one position. */
import type { Hold } from '$lib/search/hold';
import { unreachable } from '$lib/setup/reach';
import type { Engaged, Setup } from '$lib/setup/setup';
import { Doubts, type Piece } from './chart/doubts';
import { engagedIn, type Over } from './tablatureControls';
import { stringsByNote, type TablatureNecks } from './tablatureNecks';

/** One fret on one string, with what is pressed for it. */
interface Note {
  readonly column: number;
  readonly string: number;
  readonly fret: number;
  readonly engaged: readonly Engaged[];
  readonly piece: Piece;
}

/** An open note by any names of notes. */
const NOTE = String.raw`(?:do|r[eé]|mi|fa|sol|la|si|[a-h](?:is|es|s)?)[#b♯♭]?`;
/** A line's label (a number, an open note, or both), and what is drawn behind it. */
const STAVE = new RegExp(
  String.raw`^(\s*(?:\d{1,2}\s+${NOTE}|\d{1,2}|${NOTE})?\s*[|:]?\s*)([-|=\d.][-|=\d\p{L}()½/\\~^,+. ]*)$`,
  'iu',
);

interface StaveLine {
  readonly label: string;
  readonly body: string;
  /** Where the body begins in its line. */
  readonly from: number;
}

/** A line of a stave: its label, and where its own part begins; `undefined` where it is none. */
export function staveLine(line: Piece): StaveLine | undefined {
  // drawn with dashes, or with dots in groups
  if ((line.text.match(/[-=]/gu) ?? []).length < 3 && !/\.{2}.*\.{2}/u.test(line.text))
    return undefined;
  const match = STAVE.exec(line.text.trimEnd());
  if (match === null) return undefined;
  const [, before = '', body = ''] = match;
  return { label: before.replace(/[|:\s]/gu, ''), body, from: before.length };
}

/** A fret, and the controls behind it; some stations end in a number. */
const FRET = /(\d{1,2})((?:PALM[12]|[LR]K[LVR]2|P\d{1,2}|[\p{L}(),+½]|\/2)*)/giu;

/** Does a text have controls behind its frets, so that letters above a stave are chords? */
export const hasControlsBehind = (lines: readonly Piece[]): boolean =>
  lines.some((line) => /\d\p{L}/u.test(staveLine(line)?.body ?? ''));

/** The strings that the lines of a stave are for, 1 … n: by number, by note, else in their order; and their neck. */
function stringsOf(
  setup: Setup,
  lines: readonly (StaveLine & { readonly line: Piece })[],
  piece: Piece,
  necks: TablatureNecks,
  doubts: Doubts,
): { neck: number; strings: number[] } {
  const labels = lines.map(({ label }) => label);
  const isNumbered = labels.every((label) => /^\d/.test(label));
  const notes = labels.map((label) => label.replace(/^\d+/u, ''));
  const isNoted = notes.every((note) => note !== '');
  // only to know the neck; what is wrong with them is told when they are read for good
  const engaged = lines.flatMap(({ body, from, line }) =>
    [...body.matchAll(FRET)].flatMap((match) =>
      engagedIn(setup, { text: match[2] ?? '', at: line.at + from + match.index }, new Doubts({})),
    ),
  );
  const neck = necks.of({
    ...(isNumbered ? { numbers: labels.map((label) => Number.parseInt(label, 10)) } : {}),
    ...(isNoted ? { notes } : {}),
    ...(isNumbered || isNoted ? {} : { lines: lines.length }),
    engaged,
    piece,
  });
  if (isNumbered) return { neck, strings: labels.map((label) => Number.parseInt(label, 10)) };
  const on = setup.necks[neck - 1];
  const byNote = on && stringsByNote(on, notes);
  if (byNote !== undefined) return { neck, strings: byNote };
  if (labels.length !== on?.strings.length)
    doubts.tell({
      key: `strings:${piece.at}`,
      piece,
      found: `${labels.length} lines without numbers`,
      read: `strings 1 to ${labels.length}`,
    });
  return { neck, strings: labels.map((_, index) => index + 1) };
}

/** The notes of one stave. */
function notesOf(
  setup: Setup,
  stave: readonly Piece[],
  necks: TablatureNecks,
  remarks: Piece[],
  doubts: Doubts,
): { neck: number; notes: Note[] } {
  const lines = stave.flatMap((line) => {
    const read = staveLine(line);
    return read === undefined ? [] : [{ ...read, line }];
  });
  const first = lines[0]?.line;
  if (first === undefined) return { neck: 1, notes: [] };
  const { neck, strings } = stringsOf(setup, lines, first, necks, doubts);
  const count = setup.necks[neck - 1]?.strings.length ?? 0;
  for (const { body, from, line } of lines)
    for (const match of body.matchAll(/(?<![\p{L}\d(])\p{L}{2,}[\p{L} ]*/gu))
      remarks.push({ text: match[0].trim(), at: line.at + from + match.index });
  const notes = lines.flatMap(({ body, from, line }, index) =>
    [...body.matchAll(FRET)].flatMap((match): Note[] => {
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
  return { neck, notes };
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
  neck: number,
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
  return held(setup, { neck, fret, slant: 0, strings, engaged }, first.piece, doubts);
}

/** A position that the legs can hold; where they cannot, the controls are left out and told. */
export function held(setup: Setup, hold: Hold, piece: Piece, doubts: Doubts): Hold {
  const why = unreachable(setup, hold.engaged);
  if (why === undefined) return hold;
  doubts.tell({
    key: `reach:${piece.at}`,
    piece,
    found: hold.engaged.map(({ id }) => id).join('+'),
    read: 'no control: they cannot be engaged together',
  });
  return { ...hold, engaged: [] };
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

/** The positions of a stave, with the controls of the line above it; words on its lines go to `remarks`. */
export function positionsOf(
  setup: Setup,
  stave: readonly Piece[],
  over: readonly Over[],
  necks: TablatureNecks,
  remarks: Piece[],
  doubts: Doubts,
): Hold[] {
  const { neck, notes } = notesOf(setup, stave, necks, remarks, doubts);
  const columns = columnsOf(notes);
  const above = aboveColumns(setup, columns, over, doubts);
  return columns.flatMap(
    (column, index) => positionOf(setup, neck, column, above[index] ?? [], doubts) ?? [],
  );
}
