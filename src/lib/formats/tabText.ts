/** Tablature as plain text, for a screen, a letter or a typewriter: every sign is one column wide. */
import {
  TOUCHED,
  inLines,
  isTouched,
  signsAbove,
  stringLabels,
  tabColumns,
  type TabCell,
  type TabColumn,
  type TabLead,
  type TabPiece,
} from './tablature';

const LEADS: Readonly<Record<TabLead, string>> = {
  picked: '-',
  'picked again': '-',
  'slides up': '/',
  'slides down': '\\',
  'moved by a control': '~',
  'rings on': '(',
};

const LEGEND: readonly (readonly [leads: readonly TabLead[], words: string])[] = [
  [['slides up', 'slides down'], '/ and \\ the bar slides'],
  [['moved by a control'], '~ a control moves the string as it rings'],
  [['rings on'], '( ) the string rings on'],
  [['picked again'], 'with no chord above: picked again'],
];

/** Columns that a beat takes at least, so that bars of equal length look so. */
const COLUMNS_A_BEAT = 4;
/** Narrower lines than this hold no chord. */
const LEAST_WIDTH = 24;

const widthOf = (text: string): number => [...text].length;
const padded = (text: string, width: number, sign: string): string =>
  text + sign.repeat(Math.max(0, width - widthOf(text)));

const cellText = ({ text, lead }: TabCell): string =>
  `${LEADS[lead]}${text}${lead === 'rings on' ? ')' : ''}`;

/** The bar line that opens a measure, on one string; dots stand on the two middle ones. */
const opening = ({ startsBar, before }: TabColumn, isMiddle: boolean): string =>
  !startsBar ? '' : before.repeats === true ? `|${isMiddle ? ':' : '-'}` : '|';

/** What closes a repeated part, before the bar line of the next measure. */
const closing = ({ after }: TabColumn, isMiddle: boolean): string =>
  after.repeats !== true ? '' : isMiddle ? ':' : '-';

/** The bar line before it, what stands in it, and one column between it and the next. */
const columnWidth = (column: TabColumn): number =>
  Math.max(
    ...column.cells.map((cell) => (cell ? widthOf(cellText(cell)) + 1 : 0)),
    // above the number, which stands one column in
    widthOf(column.chord) + 2,
    widthOf(column.section) + 2,
    widthOf(signsAbove(column)) + 2,
    ...column.words.map((words) => widthOf(words) + 2),
    Math.round(column.beats * COLUMNS_A_BEAT),
  ) +
  widthOf(opening(column, true)) +
  widthOf(closing(column, true));

function lineText(
  line: readonly TabColumn[],
  labels: readonly string[],
  isLast: boolean,
  next: TabColumn | undefined,
): string[] {
  const labelWidth = Math.max(...labels.map(widthOf)) + 1;
  const beside = (of: (column: TabColumn) => string): string =>
    (
      ' '.repeat(labelWidth) +
      line
        .map((column) =>
          padded(
            `${' '.repeat(widthOf(opening(column, true)))} ${of(column)}`,
            columnWidth(column),
            ' ',
          ),
        )
        .join('')
    ).trimEnd();
  const wherever = (text: string): string[] => (text === '' ? [] : [text]);
  // a line that breaks off within a bar has no bar line at its end
  const end = isLast || next?.startsBar !== false ? '|' : '';
  const middle = Math.floor(labels.length / 2) - 1;
  const strings = labels.map((label, string) => {
    const isMiddle = string === middle || string === middle + 1;
    const columns = line.map((column) => {
      const cell = column.cells[string];
      const close = closing(column, isMiddle);
      const text = `${opening(column, isMiddle)}${cell ? cellText(cell) : ''}`;
      return padded(text, columnWidth(column) - close.length, '-') + close;
    });
    return padded(label, labelWidth, ' ') + columns.join('') + end;
  });
  const verses = Math.max(...line.map(({ words }) => words.length));
  return [
    ...wherever(beside(({ section }) => section)),
    ...wherever(beside(signsAbove)),
    ...wherever(beside(({ chord }) => chord)),
    ...strings,
    ...Array.from({ length: verses }, (_, verse) => beside(({ words }) => words[verse] ?? '')),
  ];
}

/** Where something that is heard stands in the text: lines from its top, and columns from the left. */
export interface TabPlace {
  /** Its numbers in the order of playing. */
  readonly heard: readonly number[];
  readonly top: number;
  readonly lines: number;
  readonly left: number;
  readonly columns: number;
}

/** Tablature as text, with where in it what is heard stands. */
export interface PlacedText {
  readonly text: string;
  readonly places: readonly TabPlace[];
}

/** The whole piece, wrapped so that no line is wider than so many columns (if a chord fits at all). */
export const tabText = (piece: TabPiece, width?: number): string => placedTab(piece, width).text;

/** Where the columns of a line stand, which begins so far from the top. */
function placesIn(line: readonly TabColumn[], label: number, top: number, lines: number) {
  let left = label;
  return line.flatMap((column): TabPlace[] => {
    const opens = widthOf(opening(column, true));
    const columns = columnWidth(column);
    const place = { heard: column.heard, top, lines, left: left + opens, columns: columns - opens };
    left += columns;
    return column.heard.length === 0 ? [] : [place];
  });
}

/** What is said in lines no wider than so many columns, as far as one saying fits at all. */
function besideOneAnother(sayings: readonly string[], width: number): string[] {
  const lines: string[] = [];
  for (const saying of sayings) {
    const longer = `${lines.at(-1) ?? ''}   ${saying}`;
    if (lines.length > 0 && widthOf(longer) <= width) lines[lines.length - 1] = longer;
    else lines.push(saying);
  }
  return lines;
}

/** The same with its places. */
export function placedTab(piece: TabPiece, width = 80): PlacedText {
  const { title, setup, remark } = piece;
  const columns = tabColumns(piece);
  const widestLabel = Math.max(
    ...setup.necks.flatMap((_, neck) => stringLabels(setup, neck + 1).map(widthOf)),
  );
  const room = Math.max(LEAST_WIDTH, width) - widestLabel - 2;
  const lines = inLines(columns, columnWidth, room);
  const leads = new Set(columns.flatMap(({ cells }) => cells.map((cell) => cell?.lead)));
  const legend = [
    ...LEGEND.filter(([of]) => of.some((lead) => leads.has(lead))).map(([, words]) => words),
    ...(isTouched(piece) ? [TOUCHED] : []),
  ];
  const text = title === '' ? [] : [title, ''];
  const places: TabPlace[] = [];
  lines.forEach((line, index) => {
    const labels = stringLabels(setup, line[0]?.neck ?? 1);
    const own = lineText(line, labels, index === lines.length - 1, lines[index + 1]?.[0]);
    const label = Math.max(...labels.map(widthOf)) + 1;
    places.push(...placesIn(line, label, text.length, own.length));
    text.push(...own, '');
  });
  if (remark !== undefined) text.push(remark);
  text.push(...besideOneAnother(legend, width));
  return { text: [...text, ''].join('\n'), places };
}
