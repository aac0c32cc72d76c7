/** A chart's text cut into rows and cells by signs between them (pipes, slashes, commas, tabs); `cuttingByPlace` goes by where they stand. */
import papa from 'papaparse';
import type { Piece } from './doubts';
import { labelRole } from './label';
import { remembered } from './memo';
import { readStationName } from './stationName';
import type { Grid } from './table';

export interface Line extends Piece {
  readonly number: number;
}

/** The lines of a text. */
export function linesOf(text: string): Line[] {
  let at = 0;
  return text.split('\n').map((line, index) => {
    const here = { text: line, at, number: index + 1 };
    at += line.length + 1;
    return here;
  });
}

/** A text that can be asked for the grids of some of its rows. */
export interface Cut {
  readonly rows: number;
  readonly isBlank: (row: number) => boolean;
  /** A row that looks like the head of a table, so that one may begin there. */
  readonly isHead: (row: number) => boolean;
  /** The ways to cut rows `from` … `to - 1` into cells. */
  readonly grids: (from: number, to: number) => Grid[];
  /** What stands in a row, whole. */
  readonly row: (row: number) => Piece;
}

/** A station's or a control's name, where a text is one. */
export const nameOf = remembered(readStationName);
const isStation = (text: string): boolean => nameOf(text)?.station !== undefined;

/** Without the blanks around it, at the place of its first sign. */
export const trimmed = (text: string, at: number): Piece => {
  const lead = text.length - text.trimStart().length;
  return { text: text.trim(), at: at + lead };
};

const padded = (rows: readonly (readonly Piece[])[]): Grid => {
  const width = Math.max(0, ...rows.map((row) => row.length));
  return rows.map((row) => [
    ...row,
    ...Array.from({ length: width - row.length }, () => ({ text: '', at: row[0]?.at ?? 0 })),
  ]);
};

/** A line of nothing but signs, as between a table's head and its body. */
export const isRule = (text: string): boolean =>
  /[-=_─━═]{2}/u.test(text) && /^[\s|:+\-=_─━═┼├┤┌┐└┘┬┴]*$/u.test(text);

/** Are these mostly names of stations, at least two, and words for labels? */
export const looksLikeHead = (cells: readonly string[]): boolean => {
  const words = cells.filter((cell) => cell !== '');
  const stations = words.filter(isStation).length;
  const named = words.filter((word) => nameOf(word) !== undefined || labelRole(word) !== undefined);
  return stations >= 2 && named.length >= 0.7 * words.length;
};

function cutOf(rows: readonly (readonly Piece[])[], whole: readonly Piece[]): Cut {
  return {
    rows: rows.length,
    isBlank: (row) => (rows[row] ?? []).every(({ text }) => text === ''),
    isHead: (row) => looksLikeHead((rows[row] ?? []).map(({ text }) => text)),
    grids: (from, to) => [
      padded(rows.slice(from, to).filter((row) => row.some(({ text }) => text !== ''))),
    ],
    row: (row) => whole[row] ?? { text: '', at: 0 },
  };
}

/** Cells between pipes, as in Markdown. */
export function byPipes(lines: readonly Line[]): Cut | undefined {
  if (lines.filter(({ text }) => text.includes('|')).length < 3) return undefined;
  const rows = lines.map((line): Piece[] => {
    if (isRule(line.text) || line.text.trim() === '') return [];
    let at = line.at;
    const cells = line.text.split('|').map((part) => {
      const piece = trimmed(part, at);
      at += part.length + 1;
      return piece;
    });
    if (cells[0]?.text === '' && line.text.trimStart().startsWith('|')) cells.shift();
    if (cells.at(-1)?.text === '' && line.text.trimEnd().endsWith('|')) cells.pop();
    return cells;
  });
  return cutOf(
    rows,
    lines.map((line) => trimmed(line.text, line.at)),
  );
}

/** Cells between slashes, what stands before a colon at the beginning of a line being a cell of its own. */
export function bySlashes(lines: readonly Line[]): Cut | undefined {
  const LABEL = /^\s*([^:/\s][^:/]{0,20}):\s/u;
  const isCells = ({ text }: Line): boolean => text.split(/\s\/\s/u).length > 2;
  const cut = lines.filter(isCells);
  if (cut.length < 3) return undefined;
  const isLabelled = cut.some(({ text }) => LABEL.test(text));
  const rows = lines.map((line): Piece[] => {
    if (!isCells(line)) return line.text.trim() === '' ? [] : [trimmed(line.text, line.at)];
    const label = LABEL.exec(line.text);
    const cells: Piece[] = isLabelled ? [trimmed(label?.[1] ?? '', line.at)] : [];
    let at = line.at + (label?.[0].length ?? 0);
    for (const part of line.text.slice(label?.[0].length ?? 0).split(/\s\/(?=\s)/u)) {
      cells.push(trimmed(part, at));
      at += part.length + 2;
    }
    return cells;
  });
  return cutOf(
    rows,
    lines.map((line) => trimmed(line.text, line.at)),
  );
}

/** Cells between commas, semicolons or tabs, some of them perhaps in quotes. */
export function bySign(text: string, sign: ',' | ';' | '\t'): Cut | undefined {
  const most = text.split('\n').filter((line) => line.split(sign).length > 2).length;
  if (most < 2) return undefined;
  const { data } = papa.parse<string[]>(text, { delimiter: sign, newline: '\n' });
  let at = 0;
  const rows = data.map((row): Piece[] =>
    row.map((cell) => {
      // where a cell has quotes within quotes it is looked for from its first word on
      const first = cell.split(/["\n]/u)[0] ?? '';
      const found = text.indexOf(first, at);
      const here = found < 0 ? at : found;
      at = Math.min(text.length, here + first.length);
      return trimmed(cell.replace(/\s+/gu, ' '), here);
    }),
  );
  const whole = rows.map((row): Piece => {
    const begin = row[0]?.at ?? 0;
    const last = row.at(-1);
    return trimmed(text.slice(begin, (last?.at ?? begin) + (last?.text.length ?? 0)), begin);
  });
  return cutOf(rows, whole);
}
