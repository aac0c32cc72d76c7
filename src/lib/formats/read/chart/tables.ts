/** The tables in a text: where each begins and ends is what makes most sense of the whole. */
import type { Cut } from './cutting';
import { readPullCell } from './pullCell';
import type { Written, WrittenNeck, WrittenPull } from './reading';
import type { Piece } from './doubts';
import { tableOf, type Grid, type Table } from './table';

interface Part {
  readonly from: number;
  readonly to: number;
}

/** Rows that stay together: no empty row between them, and no head but as the first. */
function partsOf(cut: Cut, closes: boolean): Part[] {
  const parts: Part[] = [];
  let from = 0;
  const end = (to: number): void => {
    if (to > from) parts.push({ from, to });
    from = to;
  };
  for (let row = 0; row < cut.rows; row++) {
    if (cut.isBlank(row)) {
      if (closes) {
        end(row);
        from = row + 1;
      }
    } else if (cut.isHead(row)) end(row);
  }
  end(cut.rows);
  return parts.filter((part) => {
    for (let row = part.from; row < part.to; row++) if (!cut.isBlank(row)) return true;
    return false;
  });
}

const MOST_PARTS = 40;
/** A title, the heads, and the halves of a table with a gap in it. */
const MOST_JOINED = 6;

interface Found {
  readonly score: number;
  readonly tables: readonly (Table & Part)[];
}

/** A table in which a column says which neck a string is on, as a table for each neck. */
function necksOf(grid: Grid): Grid[] {
  const head = grid.findIndex(
    (row) =>
      row.some(({ text }) => NECK.test(text)) &&
      // a heading is no head of columns
      row.filter(({ text }) => text !== '').length >= LEAST_HEADS,
  );
  const column = grid[head]?.findIndex(({ text }) => NECK.test(text)) ?? -1;
  if (column < 0) return [grid];
  const without = (row: Grid[number]): Piece[] => row.filter((_, index) => index !== column);
  const necks = new Map<string, Piece[][]>();
  let name = '';
  for (const row of grid.slice(head + 1)) {
    // a cell that is joined with those below it is empty there
    name = row[column]?.text || name;
    necks.set(name, [...(necks.get(name) ?? []), without(row)]);
  }
  const heads = grid.slice(0, head + 1).map(without);
  return [...necks.values()].map((rows) => [...heads, ...rows]);
}
const NECK = /^(?:necks?|hals)$/iu;
/** A neck, a string, and a control. */
const LEAST_HEADS = 3;
const MOST_NECKS = 3;

/** The tables of a grid, one a neck, and how much sense they make; `undefined` where one is none. */
function tablesOf(grid: Grid): { tables: Table[]; score: number } | undefined {
  const grids = necksOf(grid);
  if (grids.length > MOST_NECKS) return undefined;
  const tables = grids.flatMap((each) => tableOf(each) ?? []);
  if (tables.length === 0 || tables.length < grids.length) return undefined;
  return { tables, score: tables.reduce((sum, { score }) => sum + score, 0) };
}

/** The tables among some parts that make most sense together. */
function bestTables(cut: Cut, parts: readonly Part[]): Found {
  const best: Found[] = [{ score: 0, tables: [] }];
  for (let end = 1; end <= parts.length; end++) {
    let here: Found = best[end - 1] ?? { score: 0, tables: [] };
    for (let begin = end - 1; begin >= Math.max(0, end - MOST_JOINED); begin--) {
      const [first, last] = [parts[begin], parts[end - 1]];
      if (first === undefined || last === undefined) continue;
      const span = { from: first.from, to: last.to };
      for (const grid of cut.grids(span.from, span.to)) {
        const found = tablesOf(grid);
        const before = best[begin];
        if (found === undefined || before === undefined) continue;
        // a head costs a little, so that one table is not read as two
        const score = before.score + found.score - 1;
        if (score > here.score)
          here = {
            score,
            tables: [...before.tables, ...found.tables.map((table) => ({ ...table, ...span }))],
          };
      }
    }
    best.push(here);
  }
  return best.at(-1) ?? { score: 0, tables: [] };
}

function neckOf(table: Table): WrittenNeck {
  return {
    strings: table.strings,
    controls: table.heads,
    leftOut: table.leftOut,
    pulls: table.cells.flatMap((row, string) =>
      row.flatMap((piece, control): WrittenPull[] =>
        piece.text === ''
          ? []
          : [
              {
                string,
                control,
                piece,
                travel: (open, manner, place) =>
                  readPullCell(piece.text, open, manner, place, table.heads[control]?.name.way),
              },
            ],
      ),
    ),
  };
}

/** The tables of a text that is cut one way; `undefined` where there is none. */
export function tablesIn(cut: Cut): Written | undefined {
  let parts = partsOf(cut, true);
  // a sheet with an empty row after every row
  if (parts.length > MOST_PARTS || parts.length > 2 + cut.rows / 3) parts = partsOf(cut, false);
  if (parts.length > MOST_PARTS) return undefined;
  const { score, tables } = bestTables(cut, parts);
  if (tables.length === 0) return undefined;
  const beside = Array.from({ length: cut.rows }, (_, row) => row)
    .filter((row) => !cut.isBlank(row) && !tables.some(({ from, to }) => row >= from && row < to))
    .map((row) => cut.row(row))
    .filter(({ text }) => text !== '');
  return { necks: tables.map(neckOf), beside, score };
}
