/** Lists side by side, each under its control: `A  B` over `5 to C#  3 to A`. */
import { byPipes, bySign, linesOf, type Cut, type Line } from './cutting';
import type { Piece } from './doubts';
import { remembered } from './memo';
import { groupsIn } from './phrases';
import { readStationName, type StationName } from './stationName';

/** A cell of a list, with the control that it stands under. */
export interface Listed {
  readonly name: StationName;
  readonly head: Piece;
  readonly cell: Piece;
}

export interface Lists {
  readonly cells: readonly Listed[];
  /** The rows that they take, as places of the text. */
  readonly spans: readonly (readonly [from: number, to: number])[];
}

const nameOf = remembered(readStationName);

/** Does a cell say which strings it is about, and what is done to them? */
const isListed = remembered((text) => {
  const { groups, unread } = groupsIn({ text, at: 0 }, 0);
  return (
    unread.length === 0 && groups.length > 0 && groups.every(({ numbers }) => numbers.length > 0)
  );
});

/** Controls that stand side by side, and pulls under one of them, at most. */
const MOST_HEADS = 20;
const MOST_LISTED = 20;

/** Are at least two of some cells controls, and the others empty? */
const isHeads = (cells: readonly Piece[]): boolean =>
  cells.filter(({ text }) => text !== '').length >= 2 &&
  cells.every(({ text }) => text === '' || nameOf(text) !== undefined);

function listsOfCut(cut: Cut): Lists | undefined {
  const cells: Listed[] = [];
  const spans: [number, number][] = [];
  for (let row = 0; row + 1 < cut.rows; row++) {
    if (cut.isBlank(row)) continue;
    // a row is looked at alone before those under it are cut
    const alone = cut.grids(row, row + 1)[0]?.[0] ?? [];
    if (alone.length < 2 || alone.length > MOST_HEADS || !isHeads(alone)) continue;
    let end = row + 1;
    while (end < cut.rows && end - row <= MOST_LISTED && !cut.isBlank(end)) end++;
    const [head, ...body] = cut.grids(row, end)[0] ?? [];
    const names = (head ?? []).map(({ text }) => (text === '' ? undefined : nameOf(text)));
    const filled = body.flatMap((line) =>
      line.flatMap((cell, index): Listed[] => {
        const [name, over] = [names[index], head?.[index]];
        return cell.text === '' || name === undefined || over === undefined
          ? []
          : [{ name, head: over, cell }];
      }),
    );
    if (filled.length < 2 || !filled.every(({ cell }) => isListed(cell.text))) continue;
    cells.push(...filled);
    const [first, last] = [cut.row(row), cut.row(end - 1)];
    spans.push([first.at, last.at + last.text.length]);
    row = end;
  }
  return cells.length === 0 ? undefined : { cells, spans };
}

/** Cells with at least two spaces between them, each under the word of the first row that it begins nearest to. */
function byGaps(lines: readonly Line[]): Cut {
  const rows = lines.map(({ text, at }) =>
    [...text.matchAll(/\S+(?: \S+)*/gu)].map((match) => ({
      text: match[0],
      at: at + match.index,
      column: match.index,
    })),
  );
  return {
    rows: rows.length,
    isBlank: (row) => (rows[row] ?? []).length === 0,
    isHead: () => false,
    row: (row) => lines[row] ?? { text: '', at: 0 },
    grids: (from, to) => {
      const heads = rows[from] ?? [];
      return [
        rows.slice(from, to).map((row) => {
          const cells: Piece[] = heads.map(() => ({ text: '', at: row[0]?.at ?? 0 }));
          for (const { column, ...cell } of row) {
            const off = heads.map((head) => Math.abs(head.column - column));
            const best = off.indexOf(Math.min(...off));
            // two in one place are no list
            cells[best] = { ...cell, text: `${cells[best]?.text ?? ''} ${cell.text}`.trim() };
          }
          return cells;
        }),
      ];
    },
  };
}

/** The lists of a text, if it has some. */
export function listsIn(text: string): Lists | undefined {
  const lines = linesOf(text);
  for (const cut of [byPipes(lines), bySign(text, '\t'), bySign(text, ';'), byGaps(lines)]) {
    const lists = cut && listsOfCut(cut);
    if (lists !== undefined) return lists;
  }
  return undefined;
}
