/** A chart's text cut into rows and cells by where they stand: under the words of a head, or between blank gutters. */
import { isRule, looksLikeHead, nameOf, trimmed, type Cut, type Line } from './cutting';
import type { Piece } from './doubts';
import { labelRole, readLabel } from './label';
import { remembered } from './memo';
import { isWayWithAmount } from './pullTokens';
import type { Grid } from './table';

/** Where a word stands in its line. */
interface Word {
  readonly from: number;
  readonly to: number;
}

/** What stands over the levers of a knee. */
const GROUP = /^(?:(?:left|right) knee|knee (?:left|right)|(?:linkes|rechtes) knie)$/iu;

/** The words of a line; those that make one name of a station, or one pull, stay together. */
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
        (end === index + 1 && isWayWithAmount(joined)) ||
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
