/** Tablature on paper: staves of as many lines as strings, set to the width of the page. */
import { box, disc, line, text, type Drawing, type Mark, type Paper } from './drawing';
import { PaperFlow } from './paperFlow';
import { codeMm, drawCode, type SheetCode } from './sheetCode';
import {
  TOUCHED,
  isTouched,
  inLines,
  signsAbove,
  stringLabels,
  tabColumns,
  type TabCell,
  type TabColumn,
  type TabPiece,
} from './tablature';
import { widthMm } from './type/setting';

/** How much room there is, in millimetres. */
interface Spacing {
  /** From string to string. */
  readonly string: number;
  /** Below a staff. */
  readonly between: number;
  /** Of a beat, at least. */
  readonly beat: number;
}
const USUAL: Spacing = { string: 4.2, between: 9, beat: 8 };
/** For what has room on one page so and else would not, less and less; numbers never touch. */
const TIGHTER: readonly Spacing[] = [
  { string: 3.8, between: 6, beat: 6 },
  { string: 3.6, between: 5, beat: 5 },
  { string: 3.4, between: 3.5, beat: 4 },
];
const LABEL_MM = 11;
const ABOVE_MM = 9;
/** A further line of small type above a staff, or of words below it. */
const ROW_MM = 4.4;
/** From a bar line to the dots of a repeat. */
const DOTS_MM = 2.3;
const NUMBER_PT = 9.5;
const CHORD_PT = 11;
const SMALL_PT = 7.5;
const WORDS_PT = 8.5;
/** From a column's beginning to its number: room for a bar line and for a slide. */
const LEAD_MM = 4.5;
/** The longest stroke that leads to a number. */
const MOVE_MM = 12;
/** A last line that is fuller than this is set to the full width like the others. */
const NEARLY_FULL = 0.75;

const shown = ({ text: words, lead }: TabCell): string =>
  lead === 'rings on' ? `(${words})` : words;
const cellMm = (cell: TabCell): number => widthMm(shown(cell), NUMBER_PT, 'bold');

const columnMm = (column: TabColumn, { beat }: Spacing): number =>
  LEAD_MM +
  Math.max(
    ...column.cells.map((cell) => (cell ? cellMm(cell) + 2.5 : 0)),
    widthMm(column.chord, CHORD_PT, 'bold') + 2,
    widthMm(column.section, SMALL_PT, 'bold') + 2,
    widthMm(signsAbove(column), SMALL_PT, 'bold') + 3,
    ...column.words.map((words) => widthMm(words, WORDS_PT) + 2),
    column.beats * beat - LEAD_MM,
  );

interface Placed {
  readonly column: TabColumn;
  readonly start: number;
  readonly end: number;
}

/** The columns of a line from left to right, spread so that the line is full. */
function placed(
  columns: readonly TabColumn[],
  left: number,
  room: number,
  isLast: boolean,
  spacing: Spacing,
): Placed[] {
  const all = natural(columns, spacing);
  const spread = isLast && all < NEARLY_FULL * room ? 1 : room / all;
  let at = left;
  return columns.map((column) => {
    const start = at;
    at += columnMm(column, spacing) * spread;
    return { column, start, end: at };
  });
}

/** What leads to a number: a slanting stroke for the bar, a level one for a control. */
function leadMarks(cell: TabCell, from: number, to: number, y: number): Mark[] {
  if (['picked', 'picked again', 'rings on'].includes(cell.lead)) return [];
  const rise = cell.lead === 'slides up' ? 1.1 : cell.lead === 'slides down' ? -1.1 : 0;
  return [line([from, y + rise], [to, y - rise], 0.55)];
}

function numberMarks(cell: TabCell, x: number, y: number): Mark[] {
  return [
    // the string is not drawn through its number
    box(x - 0.5, y - 1.6, cellMm(cell) + 1, 3.2, 0),
    text(x, y + 1.2, shown(cell), NUMBER_PT, { weight: 'bold', grey: cell.lead === 'rings on' }),
  ];
}

/** Rows of small type above the chords of a line: its sections, and the signs of its measures. */
interface Above {
  readonly sections: boolean;
  readonly signs: boolean;
}

const aboveOf = (columns: readonly TabColumn[]): Above => ({
  sections: columns.some(({ section }) => section !== ''),
  signs: columns.some((column) => signsAbove(column) !== '' || column.before.ending !== undefined),
});

/** One row is within the usual distance; a second needs room. */
const aboveMm = ({ sections, signs }: Above): number =>
  ABOVE_MM + (sections && signs ? ROW_MM : 0) + (signs ? 1 : 0);

/** A thick line, a thin one, and dots in two spaces about the middle, on the side where the part is. */
function repeatMarks(
  x: number,
  side: 1 | -1,
  top: number,
  strings: number,
  { string }: Spacing,
): Mark[] {
  const bottom = top + (strings - 1) * string;
  const middle = top + ((strings - 1) / 2) * string;
  const spaces = (strings % 2 === 0 ? 1 : 0.5) * string;
  return [
    line([x, top], [x, bottom], 1),
    line([x + side, top], [x + side, bottom], 0.3),
    ...[-spaces, spaces].map((space) => disc(x + side * DOTS_MM, middle + space, 0.6)),
  ];
}

/** The signs of a line's measures, with a bracket over each ending. */
function formMarks(line_: readonly Placed[], y: number): Mark[] {
  let inEnding = false;
  return line_.flatMap(({ column, start, end }): Mark[] => {
    const { before, after } = column;
    const marks: Mark[] = [];
    const bracket = y - 2.9;
    if (before.ending !== undefined) inEnding = true;
    if (inEnding) {
      marks.push(
        line(
          [start + 0.6, bracket],
          [end - (after.endsEnding === true ? 0.6 : -0.6), bracket],
          0.25,
        ),
      );
      if (before.ending !== undefined)
        marks.push(line([start + 0.6, bracket], [start + 0.6, y + 1], 0.25));
    }
    const begins = [before.ending, before.signs].filter((each) => each !== undefined).join('  ');
    if (begins !== '') marks.push(text(start + 1.8, y, begins, SMALL_PT, { weight: 'bold' }));
    if (after.signs !== undefined)
      marks.push(text(end - 1.2, y, after.signs, SMALL_PT, { weight: 'bold', align: 'end' }));
    if (after.endsEnding === true) inEnding = false;
    return marks;
  });
}

function staffMarks(
  line_: readonly Placed[],
  labels: readonly string[],
  top: number,
  left: number,
  right: number,
  rows: Above,
  spacing: Spacing,
): Mark[] {
  const yOf = (string: number): number => top + string * spacing.string;
  const bottom = yOf(labels.length - 1);
  const marks: Mark[] = labels.flatMap((label, string) => [
    text(left - 2, yOf(string) + 1, label, SMALL_PT, { align: 'end', grey: true }),
    line([left, yOf(string)], [right, yOf(string)], undefined, 0.55),
  ]);
  const bar = (x: number): Mark => line([x, top], [x, bottom], 0.3);
  line_.forEach(({ column, start, end }, index) => {
    const x = start + LEAD_MM;
    const closes = line_[index - 1]?.column.after.repeats === true;
    if ((column.startsBar || index === 0) && column.before.repeats !== true && !closes)
      marks.push(bar(start));
    if (column.before.repeats === true)
      marks.push(...repeatMarks(start, 1, top, labels.length, spacing));
    if (column.after.repeats === true)
      marks.push(...repeatMarks(end, -1, top, labels.length, spacing));
    if (column.startsBar) marks.push(text(start, top - 1.6, column.number, 6.5, { grey: true }));
    marks.push(text(x, top - 2.6, column.chord, CHORD_PT, { weight: 'bold' }));
    if (column.section !== '')
      marks.push(
        text(x, top - (rows.signs ? 7.4 + ROW_MM : 7.4), column.section, SMALL_PT, {
          weight: 'bold',
          grey: true,
        }),
      );
    column.words.forEach((words, verse) =>
      marks.push(text(x, bottom + ROW_MM * (verse + 1), words, WORDS_PT)),
    );
    column.cells.forEach((cell, string) => {
      if (cell === undefined) return;
      // what is picked again stands in a column where the other strings have no number
      const before = line_.findLast(
        (placed, at) => at < index && placed.column.cells[string] !== undefined,
      );
      const last = before?.column.cells[string];
      const free = before && last ? before.start + LEAD_MM + cellMm(last) + 0.8 : start + 0.8;
      // it moves just before the next chord, not all the time
      const from = Math.max(free, x - MOVE_MM);
      marks.push(...leadMarks(cell, from, x - 0.8, yOf(string)));
      marks.push(...numberMarks(cell, x, yOf(string)));
    });
  });
  if (line_.at(-1)?.column.after.repeats !== true) marks.push(bar(right));
  return [...marks, ...formMarks(line_, top - 7.2)];
}

/** What the signs of tablature mean. */
export const TAB_LEGEND =
  'Numbers are frets, with the controls that move the string beside them. A slanting stroke: the bar slides. A level stroke: a control moves the string as it rings. In brackets: the string rings on. Strings that only one of two chords has are picked.';
/** Where a column has such numbers. */
const LEGEND_AGAIN =
  ' Numbers without a chord above: a string that has become weak is picked again before it moves.';

/**
 * A piece's tablature on paper, with its title and a legend; on A4 unless told otherwise. What has room on one page
 * when it is set more tightly is set so.
 *
 * @param code the way back to the screen; none where it is left out
 */
export function tabDrawing(piece: TabPiece, paper: Paper = 'A4', code?: SheetCode): Drawing {
  const usual = drawn(piece, paper, USUAL, code);
  if (usual.pages.length === 1) return usual;
  for (const spacing of TIGHTER) {
    const tight = drawn(piece, paper, spacing, code);
    if (tight.pages.length === 1) return tight;
  }
  return usual;
}

function drawn(piece: TabPiece, paper: Paper, spacing: Spacing, code?: SheetCode): Drawing {
  const { title, setup, steps, remark } = piece;
  const flow = new PaperFlow(title === '' ? setup.name : title, paper, false);
  if (title !== '') flow.words(title, title.length <= 42 ? 20 : 13, { weight: 'bold' });
  flow.words(setup.name, 8.5, { grey: true });
  flow.y += 3;
  const picksAgain = tabColumns(piece).some(isPickedAgain);
  const legend = picksAgain ? TAB_LEGEND + LEGEND_AGAIN : TAB_LEGEND;
  const below = [remark, isTouched(piece) ? `${TOUCHED}.` : undefined, legend].reduce(
    (sum, words) => sum + (words === undefined ? 0 : flow.heightOf(words, SMALL_PT)),
    code === undefined ? 0 : codeMm(flow, code),
  );
  drawTab(flow, piece, spacing, below);
  if (remark !== undefined) flow.words(remark, SMALL_PT);
  if (isTouched(piece)) flow.words(`${TOUCHED}.`, SMALL_PT, { grey: true });
  if (steps.length > 0) flow.words(legend, SMALL_PT, { grey: true });
  else flow.words('There is nothing to play yet.', 11);
  if (code !== undefined) drawCode(flow, code);
  return flow.drawing();
}

/** A string is picked again in it before it moves. */
const isPickedAgain = ({ cells }: TabColumn): boolean =>
  cells.some((cell) => cell?.lead === 'picked again');

/**
 * The staves of a piece below what stands on the page.
 *
 * @param belowMm of what comes after them, which the last staff goes along with where it turns the page
 */
export function drawTab(flow: PaperFlow, piece: TabPiece, spacing = USUAL, belowMm = 0): void {
  const { setup } = piece;
  const left = flow.left + LABEL_MM;
  const room = flow.right - left;
  const columns = tabColumns(piece);
  const lines = inLines(columns, (column) => columnMm(column, spacing), room);
  for (const [index, own] of lines.entries()) {
    const labels = stringLabels(setup, own[0]?.neck ?? 1);
    const staff = (labels.length - 1) * spacing.string;
    const rows = aboveOf(own);
    const verses = Math.max(...own.map(({ words }) => words.length)) * ROW_MM;
    const isLast = index === lines.length - 1;
    flow.need(aboveMm(rows) + staff + verses + (isLast ? spacing.between + belowMm : 2));
    const top = flow.y + aboveMm(rows);
    const set = placed(own, left, room, isLast, spacing);
    const isShort = isLast && natural(own, spacing) < NEARLY_FULL * room;
    const right = isShort ? left + natural(own, spacing) : flow.right;
    flow.add(...staffMarks(set, labels, top, left, right, rows, spacing));
    flow.y = top + staff + verses + spacing.between;
  }
}

const natural = (columns: readonly TabColumn[], spacing: Spacing): number =>
  columns.reduce((sum, column) => sum + columnMm(column, spacing), 0);
