/**
 * A grid of cells as a chart of strings against controls: which row is the head, which columns are
 * labels, what is turned, and how much of it makes sense.
 */
import type { Piece } from './doubts';
import { labelRole, readLabel, type Label, type LabelRole } from './label';
import { remembered } from './memo';
import { withoutRemark } from './pullCell';
import { pullTokens } from './pullTokens';
import { readStationName, type StationName } from './stationName';

/** Rows of cells, all of one length; an empty cell is a piece without text. */
export type Grid = readonly (readonly Piece[])[];

export interface NeckString extends Label {
  readonly piece: Piece;
}

export interface TableHead {
  readonly piece: Piece;
  /** `undefined` where the head is a word that says no station. */
  readonly name: StationName;
}

/** A chart's table as it stands, before its notes and pulls are made sense of. */
export interface Table {
  /** In the order of the chart. */
  readonly strings: readonly NeckString[];
  readonly heads: readonly TableHead[];
  /** By string, then by control. */
  readonly cells: Grid;
  /** What stands in it and is no part of it. */
  readonly leftOut: readonly Piece[];
  /** How much sense it makes; tables are weighed by it. */
  readonly score: number;
}

const nameOf = remembered(readStationName);
const hasPullForm = remembered((text) => {
  if (/^[.·•_x~–—\s-]*$/iu.test(text)) return true;
  const tokens = /[,;:]$/.test(text) ? undefined : pullTokens(withoutRemark(text).said);
  return (
    tokens?.some(
      ({ token }) =>
        token.kind === 'amount' ||
        token.kind === 'note' ||
        (token.kind === 'way' && (token.arrows > 0 || token.letter)),
    ) === true
  );
});
const labels = {
  number: remembered((text) => readLabel(text, 'number')),
  note: remembered((text) => readLabel(text, 'note')),
  gauge: remembered((text) => readLabel(text, 'gauge')),
  any: remembered((text) => readLabel(text)),
};
const roleOf = remembered(labelRole);

const MOST_ROWS = 60;
const MOST_COLUMNS = 40;

/** A grid turned, so that its columns are rows. */
export const turned = (grid: Grid): Grid =>
  (grid[0] ?? []).map((_, column) => grid.map((row) => row[column] ?? { text: '', at: 0 }));

/** How much a cell looks like the head of a control. */
function headWeight(text: string): number {
  if (text === '') return 0;
  const name = nameOf(text);
  if (name?.station !== undefined) return 3;
  if (name?.kind !== undefined) return 2;
  if (name !== undefined) return 1;
  return roleOf(text) === undefined ? -1 : 0.5;
}

/** `Left knee` over `L`: the head above a cell, or above the cells to its left. */
function above(grid: Grid, row: number, column: number): string {
  for (let each = column; each >= 0; each--) {
    const text = grid[row - 1]?.[each]?.text ?? '';
    if (text !== '') return text;
  }
  return '';
}

/** What the heads in a row call their controls, with the rows beside them. */
function headIn(
  grid: Grid,
  row: number,
  column: number,
  beside: readonly number[],
): StationName | undefined {
  const own = grid[row]?.[column]?.text ?? '';
  const name = own === '' ? undefined : nameOf(own);
  if (name?.station === undefined && own !== '') {
    const group = above(grid, row, column);
    const joined = group === '' ? undefined : nameOf(`${group.replace(/s$/u, '')} ${own}`);
    if (joined?.station !== undefined) return { station: joined.station };
  }
  for (const each of beside) {
    const text = grid[each]?.[column]?.text ?? '';
    const other = text === '' ? undefined : nameOf(text);
    if (other === undefined) continue;
    if (name?.station === undefined && other.station !== undefined)
      return {
        station: other.station,
        ...(name?.called === undefined ? {} : { called: name.called }),
      };
    if (name?.station !== undefined && name.called === undefined && other.called !== undefined)
      return { ...name, called: other.called };
  }
  return name;
}

interface Column {
  readonly index: number;
  readonly role: LabelRole | 'any' | 'control' | 'remark';
  readonly name: StationName | undefined;
}

function labelOf(row: readonly Piece[], columns: readonly Column[]): Label | undefined {
  let label: Label = {};
  for (const { index, role } of columns) {
    if (role === 'control' || role === 'remark') continue;
    const text = row[index]?.text ?? '';
    const read = labels[role](text);
    if (read === undefined) return undefined;
    label = { ...read, ...label };
  }
  return label;
}

const isString = (label: Label | undefined): label is Label =>
  label !== undefined && (label.note !== undefined || label.number !== undefined);

/** Could a text be what somebody calls a control? */
const isWord = (text: string): boolean => /^[\p{L}][\p{L}\d -]{0,15}$/u.test(text);

/** `Left knee`: what levers have over them. */
const isGroup = (text: string): boolean => nameOf(`${text} L`)?.station !== undefined;

/** Rows beside the head that have heads of their own: letters over or under the stations. */
function besides(grid: Grid, head: number): number[] {
  return [head - 1, head + 1].filter((row) => {
    const cells = (grid[row] ?? []).filter(({ text }) => text !== '');
    const named = cells.filter(({ text }) => nameOf(text) !== undefined || isGroup(text)).length;
    const isStringRow = isString(labels.any(cells[0]?.text ?? ''));
    return (
      cells.length > 0 &&
      named >= 0.6 * cells.length &&
      (!isStringRow || (grid[row]?.[0]?.text === '' && cells.length > 1))
    );
  });
}

function columnsOf(grid: Grid, head: number, beside: readonly number[]): Column[] {
  const heads = grid[head] ?? [];
  const names = heads.map((_, column) => headIn(grid, head, column, beside));
  const body = grid.filter((_, row) => row !== head && !beside.includes(row));
  let controls = 0;
  return heads.map(({ text }, index): Column => {
    const cells = body.flatMap((row) => (row[index]?.text ? [row[index].text] : []));
    const said = roleOf(text);
    const name = names[index];
    if (said !== undefined && name?.station === undefined)
      return { index, role: said, name: undefined };
    const areLabels = cells.filter(
      (cell) => isString(labels.any(cell)) || labels.any(cell)?.gauge !== undefined,
    );
    const arePulls = cells.filter(hasPullForm);
    const isLabel = controls === 0 && cells.length > 1 && areLabels.length >= 0.6 * cells.length;
    if (
      name?.station === undefined &&
      name?.kind === undefined &&
      isLabel &&
      (name === undefined || index === 0)
    )
      return { index, role: 'any', name: undefined };
    if (
      name !== undefined ||
      (isWord(text) && cells.length > 0 && arePulls.length === cells.length)
    ) {
      controls++;
      return { index, role: 'control', name: name ?? { called: text.trim() } };
    }
    return {
      index,
      role: cells.length === 0 && text === '' ? 'remark' : 'remark',
      name: undefined,
    };
  });
}

/** Reads a grid with one of its rows as its head. */
function under(grid: Grid, head: number): Table | undefined {
  const beside = besides(grid, head);
  const columns = columnsOf(grid, head, beside);
  const controls = columns.filter(({ role }) => role === 'control');
  const strings: NeckString[] = [];
  const cells: Piece[][] = [];
  const leftOut: Piece[] = [];
  let score = 0;
  for (const [index, row] of grid.entries()) {
    if (index === head || beside.includes(index) || row.every(({ text }) => text === '')) continue;
    const label = labelOf(row, columns);
    if (!isString(label)) {
      const first = row.find(({ text }) => text !== '');
      if (first === undefined) continue;
      leftOut.push(...row.filter(({ text }) => text !== ''));
      // a group's name over the heads is read along with them
      if (index !== head - 1) score -= 2;
      continue;
    }
    const first = row.find(({ text }) => text !== '') ?? { text: '', at: 0 };
    strings.push({ ...label, piece: first });
    cells.push(controls.map((column) => row[column.index] ?? first));
    score += (label.note === undefined ? 0 : 2) + (label.number === undefined ? 0 : 1);
    for (const { index: at, role } of columns) {
      const cell = row[at];
      if (cell === undefined || cell.text === '') continue;
      if (role === 'remark') {
        leftOut.push(cell);
        score -= 1;
      } else if (role === 'control') score += hasPullForm(cell.text) ? 2 : -3;
    }
  }
  const numbers = strings.flatMap(({ number }) => number ?? []);
  if (new Set(numbers).size < numbers.length) return undefined;
  // strings that are not there were taken for something else
  if (numbers.length > 0) score -= 4 * (Math.max(...numbers) - numbers.length);
  const heads = controls.map(({ index, name }): TableHead => ({
    piece: grid[head]?.[index] ?? { text: '', at: 0 },
    name: name ?? {},
  }));
  const stations = heads.flatMap(({ name }) => name.station ?? []);
  score += heads.reduce(
    (sum, { name }) =>
      sum + (name.station !== undefined ? 3 : /^[A-Z]$/.test(name.called ?? '') ? 1 : -2),
    0,
  );
  score -= 8 * (stations.length - new Set(stations).size);
  if (strings.length < 2 || strings.length > 14 || heads.length > 20 || heads.length === 0)
    return undefined;
  return { strings, heads, cells, leftOut, score };
}

/** Strings and their notes with no control at all. */
function tuningOnly(grid: Grid): Table | undefined {
  const rows = grid.filter((row) => row.some(({ text }) => text !== ''));
  const strings = rows.flatMap((row): NeckString[] => {
    const label = labels.any(row.map(({ text }) => text).join(' '));
    const piece = row.find(({ text }) => text !== '');
    return label?.note === undefined || piece === undefined ? [] : [{ ...label, piece }];
  });
  if (strings.length < 3 || strings.length > 14 || rows.length - strings.length > 1)
    return undefined;
  // nothing but notes is a line of prose as well: a number or a gauge has to be there
  if (!strings.every(({ number, gauge, note }) => number ?? gauge ?? note?.octave))
    return undefined;
  return {
    strings,
    heads: [],
    cells: strings.map(() => []),
    leftOut: [],
    score: strings.length * 2 - 4 * (rows.length - strings.length),
  };
}

/** The likeliest heads of a grid: its rows by how much they look like one. */
function likelyHeads(grid: Grid): number[] {
  return grid
    .map((row, index) => ({
      index,
      weight: row.reduce((sum, { text }, column) => {
        const own = headWeight(text);
        if (own >= 2 || text === '' || index === 0) return sum + own;
        const joined = nameOf(`${above(grid, index, column).replace(/s$/u, '')} ${text}`);
        return sum + (joined?.station === undefined ? own : 3);
      }, 0),
    }))
    .filter(({ weight }) => weight >= 1)
    .sort((a, b) => b.weight - a.weight || a.index - b.index)
    .slice(0, 3)
    .map(({ index }) => index);
}

const better = (a: Table | undefined, b: Table | undefined): Table | undefined =>
  a === undefined || (b !== undefined && b.score > a.score) ? b : a;

/** The best that a grid can be read as, standing or turned; `undefined` where it is no chart. */
export function tableOf(grid: Grid): Table | undefined {
  const columns = grid[0]?.length ?? 0;
  if (grid.length > MOST_ROWS || columns > MOST_COLUMNS || grid.length === 0) return undefined;
  let best: Table | undefined;
  for (const each of [grid, turned(grid)])
    for (const head of likelyHeads(each)) best = better(best, under(each, head));
  return better(better(best, tuningOnly(grid)), tuningOnly(turned(grid)));
}
