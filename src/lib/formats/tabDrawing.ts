/** Tablature on paper: staves of as many lines as strings, set to the width of the page. */
import { box, line, text, type Drawing, type Mark, type Paper } from './drawing';
import { PaperFlow } from './paperFlow';
import {
  inLines,
  stringLabels,
  tabColumns,
  type TabCell,
  type TabColumn,
  type TabPiece,
} from './tablature';
import { widthMm } from './type/setting';

const STRING_MM = 4.2;
const LABEL_MM = 11;
const ABOVE_MM = 9;
const BETWEEN_MM = 9;
const BEAT_MM = 8;
const NUMBER_PT = 9.5;
const CHORD_PT = 11;
const SMALL_PT = 7.5;
/** From a column's beginning to its number: room for a bar line and for a slide. */
const LEAD_MM = 4.5;
/** The longest stroke that leads to a number. */
const MOVE_MM = 12;
/** A last line that is fuller than this is set to the full width like the others. */
const NEARLY_FULL = 0.75;

const shown = ({ text: words, lead }: TabCell): string =>
  lead === 'rings on' ? `(${words})` : words;
const cellMm = (cell: TabCell): number => widthMm(shown(cell), NUMBER_PT, 'bold');

const columnMm = (column: TabColumn): number =>
  LEAD_MM +
  Math.max(
    ...column.cells.map((cell) => (cell ? cellMm(cell) + 2.5 : 0)),
    widthMm(column.chord, CHORD_PT, 'bold') + 2,
    widthMm(column.section, SMALL_PT, 'bold') + 2,
    column.beats * BEAT_MM - LEAD_MM,
  );

interface Placed {
  readonly column: TabColumn;
  readonly start: number;
}

/** The columns of a line from left to right, spread so that the line is full. */
function placed(
  columns: readonly TabColumn[],
  left: number,
  room: number,
  isLast: boolean,
): Placed[] {
  const natural = columns.reduce((sum, column) => sum + columnMm(column), 0);
  const spread = isLast && natural < NEARLY_FULL * room ? 1 : room / natural;
  let at = left;
  return columns.map((column) => {
    const start = at;
    at += columnMm(column) * spread;
    return { column, start };
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

function staffMarks(
  line_: readonly Placed[],
  labels: readonly string[],
  top: number,
  left: number,
  right: number,
): Mark[] {
  const yOf = (string: number): number => top + string * STRING_MM;
  const bottom = yOf(labels.length - 1);
  const marks: Mark[] = labels.flatMap((label, string) => [
    text(left - 2, yOf(string) + 1, label, SMALL_PT, { align: 'end', grey: true }),
    line([left, yOf(string)], [right, yOf(string)], undefined, 0.55),
  ]);
  const bar = (x: number): Mark => line([x, top], [x, bottom], 0.3);
  line_.forEach(({ column, start }, index) => {
    const x = start + LEAD_MM;
    if (column.startsBar || index === 0) marks.push(bar(start));
    if (column.startsBar)
      marks.push(text(start, top - 1.6, String(column.bar), 6.5, { grey: true }));
    marks.push(text(x, top - 2.6, column.chord, CHORD_PT, { weight: 'bold' }));
    if (column.section !== '')
      marks.push(text(x, top - 7.4, column.section, SMALL_PT, { weight: 'bold', grey: true }));
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
  marks.push(bar(right));
  return marks;
}

const LEGEND =
  'Numbers are frets, with the controls that move the string beside them. A slanting stroke: the bar slides. A level stroke: a control moves the string as it rings. In brackets: the string rings on. Strings that only one of two chords has are picked.';
/** Where a column has such numbers. */
const LEGEND_AGAIN =
  ' Numbers without a chord above: a string that has become weak is picked again before it moves.';

/** A piece's tablature on paper, with its title and a legend; on A4 unless told otherwise. */
export function tabDrawing(piece: TabPiece, paper: Paper = 'A4'): Drawing {
  const { title, setup, steps } = piece;
  const flow = new PaperFlow(title === '' ? setup.name : title, paper, false);
  if (title !== '') flow.words(title, title.length <= 42 ? 20 : 13, { weight: 'bold' });
  flow.words(setup.name, 8.5, { grey: true });
  flow.y += 3;
  const left = flow.left + LABEL_MM;
  const room = flow.right - left;
  const columns = tabColumns(piece);
  const picksAgain = columns.some(({ cells }) =>
    cells.some((cell) => cell?.lead === 'picked again'),
  );
  const lines = inLines(columns, columnMm, room);
  for (const [index, own] of lines.entries()) {
    const labels = stringLabels(setup, own[0]?.neck ?? 1);
    const staff = (labels.length - 1) * STRING_MM;
    flow.need(ABOVE_MM + staff + 2);
    const top = flow.y + ABOVE_MM;
    const set = placed(own, left, room, index === lines.length - 1);
    const isShort = index === lines.length - 1 && natural(own) < NEARLY_FULL * room;
    const right = isShort ? left + natural(own) : flow.right;
    flow.add(...staffMarks(set, labels, top, left, right));
    flow.y = top + staff + BETWEEN_MM;
  }
  if (steps.length > 0)
    flow.words(picksAgain ? LEGEND + LEGEND_AGAIN : LEGEND, 7.5, { grey: true });
  else flow.words('There is nothing to play yet.', 11);
  return flow.drawing();
}

const natural = (columns: readonly TabColumn[]): number =>
  columns.reduce((sum, column) => sum + columnMm(column), 0);
