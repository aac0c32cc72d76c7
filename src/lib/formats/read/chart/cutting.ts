/** A chart's text cut into rows and cells: by signs between them (pipes, commas, tabs), or by where they stand. */
import papa from 'papaparse';
import type { Piece } from './doubts';
import { labelRole, readLabel } from './label';
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

const nameOf = remembered(readStationName);
const isStation = (text: string): boolean => nameOf(text)?.station !== undefined;

const trimmed = (text: string, at: number): Piece => {
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
const isRule = (text: string): boolean =>
  /[-=_─━═]{2}/u.test(text) && /^[\s|:+\-=_─━═┼├┤┌┐└┘┬┴]*$/u.test(text);

const looksLikeHead = (cells: readonly string[]): boolean => {
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

/** Where a word stands in its line. */
interface Word {
  readonly from: number;
  readonly to: number;
}

/** What stands over the levers of a knee. */
const GROUP = /^(?:(?:left|right) knee|knee (?:left|right)|(?:linkes|rechtes) knie)$/iu;

/** The words of a line; those that make one name of a station stay together. */
const wordsOf = remembered((text): readonly Word[] => {
  const parts = [...text.matchAll(/[^\s|]+/gu)].map((match) => ({
    from: match.index,
    to: match.index + match[0].length,
  }));
  const words: Word[] = [];
  for (let index = 0; index < parts.length;) {
    const first = parts[index];
    if (first === undefined) break;
    let last = index;
    for (let end = index + 1; end < Math.min(parts.length, index + 4); end++) {
      const [before, here] = [parts[end - 1], parts[end]];
      if (before === undefined || here === undefined || here.from - before.to > 1) break;
      const joined = text.slice(first.from, here.to);
      const name = nameOf(joined);
      const own = nameOf(text.slice(first.from, first.to));
      if (
        GROUP.test(joined) ||
        (!/^(?!P).* 2$/iu.test(joined) && name?.kind !== undefined) ||
        (!/^(?!P).* 2$/iu.test(joined) &&
          name?.station !== undefined &&
          (own === undefined || /^\S+ \(\S+\)$/.test(joined)))
      )
        last = end;
    }
    words.push({ from: first.from, to: parts[last]?.to ?? first.to });
    index = last + 1;
  }
  return words;
});

/** The column under which a word stands: by where it begins, by how much it lies under it, by nearness. */
function columnFor(word: Word, columns: readonly Word[]): number {
  const exact = columns.findIndex(({ from }) => from === word.from);
  if (exact >= 0) return exact;
  let best = 0;
  let least = Infinity;
  for (const [index, column] of columns.entries()) {
    const over = Math.min(word.to, column.to) - Math.max(word.from, column.from);
    const middle = Math.abs(word.from + word.to - column.from - column.to) / 200;
    const cost = (over > 0 ? -over : 1 - over) + middle;
    if (cost < least) [best, least] = [index, cost];
  }
  return best;
}

/** How many words at a line's beginning are a string's label: number, note and gauge, each once. */
function labelWords(text: string, words: readonly Word[]): number {
  const first = words[0]?.from ?? 0;
  let count = 0;
  while (
    count < Math.min(4, words.length) &&
    readLabel(text.slice(first, words[count]?.to)) !== undefined
  )
    count++;
  return count;
}

/** Cells that stand under the words of a head line; labels left of them have a column of their own. */
function underHead(lines: readonly Line[], head: number): Grid {
  const text = lines[head]?.text ?? '';
  const words = wordsOf(text);
  const firstNamed = words.findIndex(({ from, to }) => nameOf(text.slice(from, to)) !== undefined);
  const first = words[0]?.from ?? 0;
  // where the head has no word for the labels, what stands left of it is one
  const hasLabelHead =
    words[0] !== undefined && labelRole(text.slice(words[0].from, words[0].to)) !== undefined;
  const columns: readonly Word[] = hasLabelHead ? words : [{ from: -1, to: 0 }, ...words];
  const named = hasLabelHead ? Math.max(0, firstNamed) : Math.max(0, firstNamed) + 1;
  return lines.map((line, index) => {
    const cells = columns.map((): { from: number; to: number } | undefined => undefined);
    const put = (column: number, { from, to }: Word): void => {
      const here = cells[column];
      cells[column] = here === undefined ? { from, to } : { from: here.from, to };
    };
    const own = wordsOf(line.text);
    const inLabels = (word: Word): boolean => !hasLabelHead && word.to <= first;
    const placed = own.map((word) =>
      inLabels(word) ? 0 : hasLabelHead ? columnFor(word, columns) : 1 + columnFor(word, words),
    );
    // a row that has something for every control is read in order, however it is set
    const controls = columns.length - named;
    const rest = own.length - controls;
    const isDense =
      index !== head && controls > 1 && rest > 0 && rest === labelWords(line.text, own);
    for (const [at, word] of own.entries()) {
      const column = placed[at] ?? 0;
      put(
        isDense && at >= rest ? named + at - rest : isDense ? Math.min(column, named - 1) : column,
        word,
      );
    }
    return cells.map((cell): Piece =>
      cell === undefined
        ? { text: '', at: line.at }
        : trimmed(line.text.slice(cell.from, cell.to).replace(/[|]/gu, ' '), line.at + cell.from),
    );
  });
}

/** Cells between gutters that are blank in every line. */
function byGutters(lines: readonly Line[]): Grid {
  const width = Math.max(0, ...lines.map(({ text }) => text.length));
  const spans: Word[] = [];
  let from = -1;
  for (let at = 0; at <= width; at++) {
    const isInk = lines.some(({ text }) => /[^\s|]/u.test(text.charAt(at)));
    if (isInk && from < 0) from = at;
    else if (!isInk && from >= 0) {
      spans.push({ from, to: at });
      from = -1;
    }
  }
  return lines.map((line) =>
    spans.map((span) =>
      trimmed(line.text.slice(span.from, span.to).replace(/[|]/gu, ' '), line.at + span.from),
    ),
  );
}

/** Cells by where they stand. */
export function byPlace(lines: readonly Line[]): Cut {
  const shown = lines.map((line) => (isRule(line.text) ? { ...line, text: '' } : line));
  const wordTexts = shown.map(({ text }) =>
    wordsOf(text).map(({ from, to }) => text.slice(from, to)),
  );
  const weights = wordTexts.map((words) => {
    const stations = words.filter((word) => nameOf(word) !== undefined).length;
    const numbers = words.filter((word) => /^\d{1,2}$/.test(word)).length;
    const notes = words.filter((word) => readLabel(word)?.note !== undefined).length;
    return { stations, lists: Math.max(numbers, notes) };
  });
  const topRows = (from: number, to: number, by: 'stations' | 'lists'): number[] =>
    Array.from({ length: to - from }, (_, index) => index)
      .filter((index) => (weights[from + index]?.[by] ?? 0) >= 1)
      .sort((a, b) => (weights[from + b]?.[by] ?? 0) - (weights[from + a]?.[by] ?? 0) || a - b)
      .slice(0, 2);
  return {
    rows: shown.length,
    isBlank: (row) => (shown[row]?.text ?? '').trim() === '',
    isHead: (row) => looksLikeHead(wordTexts[row] ?? []),
    row: (row) => trimmed(shown[row]?.text ?? '', shown[row]?.at ?? 0),
    grids: (from, to) => {
      const part = shown.slice(from, to);
      const heads = [...new Set([...topRows(from, to, 'stations'), ...topRows(from, to, 'lists')])];
      const withInk = (grid: Grid): Grid =>
        grid.filter((row) => row.some(({ text }) => text !== ''));
      return [...heads.map((head) => withInk(underHead(part, head))), withInk(byGutters(part))];
    },
  };
}
