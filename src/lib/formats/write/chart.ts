/** A setup's copedent as text to paste into a message or a spreadsheet; `readChart` reads it back. */
import { copedentOf, type CopedentCell } from '$lib/setup/copedent';
import { gaugeText } from '$lib/setup/gaugeText';
import type { Control, Setup } from '$lib/setup/setup';
import { nameText, pitchText } from '$lib/theory/pitch';
import { signedToType } from '$lib/theory/signed';
import { csvText } from '../csv';

/** The forms of a chart as text. */
export const CHART_FORMS = ['text', 'markdown', 'csv'] as const;
export type ChartForm = (typeof CHART_FORMS)[number];

/** Is a text the name of a form? */
export const isChartForm = (text: string): text is ChartForm =>
  (CHART_FORMS as readonly string[]).includes(text);

/** The station first, so that no spreadsheet takes a name for a formula. */
const headOf = ({ id, station }: Control): string =>
  id === station ? station : `${station} (${id})`;

/** `+2`, `-1/-2`. */
const inSemitones = ({ stops }: CopedentCell): string =>
  stops.map(({ semitones }) => signedToType(semitones)).join('/');

/**
 * The notes that a string is pulled to, `D/C#`: a spreadsheet works out `-1/-2`. Where the note would be as
 * near the other way, or nearer, the way is said in words.
 */
const inNotes = ({ stops }: CopedentCell): string =>
  stops.some(({ semitones }) => Math.abs(semitones) > 4)
    ? stops
        .map(({ semitones }) => `${semitones > 0 ? 'up' : 'down'} ${Math.abs(semitones)}`)
        .join(' / ')
    : stops.map(({ pitch }) => nameText(pitch)).join('/');

/** The rows of a neck's chart, the head first. */
function rowsOf(
  setup: Setup,
  number: number,
  cellText: (cell: CopedentCell) => string,
): string[][] {
  const all = copedentOf(setup, number);
  // what pulls nothing anywhere stands on the first neck, so that it is not lost
  const columns = all.columns.flatMap(({ control }, index) => {
    const isHere = control?.pulls.some(({ neck }) => neck === number) ?? false;
    const isIdle = number === 1 && control?.pulls.length === 0;
    return control !== undefined && (isHere || isIdle) ? [{ control, index }] : [];
  });
  const withGauges = all.rows.some(({ string }) => string.gauge !== undefined);
  return [
    [
      'String',
      'Note',
      ...(withGauges ? ['Gauge'] : []),
      ...columns.map(({ control }) => headOf(control)),
    ],
    ...all.rows.map(({ number: string, string: { open, ...wire }, cells }) => [
      String(string),
      pitchText(open),
      ...(withGauges ? [gaugeText(wire)] : []),
      ...columns.map(({ index }) => {
        const cell = cells[index];
        return cell === undefined ? '' : cellText(cell);
      }),
    ]),
  ];
}

function asColumns(rows: readonly (readonly string[])[]): string {
  const widths = (rows[0] ?? []).map((_, column) =>
    Math.max(...rows.map((row) => [...(row[column] ?? '')].length)),
  );
  return rows
    .map((row) =>
      row
        .map((cell, column) => cell + ' '.repeat((widths[column] ?? 0) - [...cell].length))
        .join('  ')
        .trimEnd(),
    )
    .join('\n');
}

const asMarkdown = (rows: readonly (readonly string[])[]): string => {
  const lines = rows.map(
    (row) => `| ${row.map((cell) => cell.replaceAll('|', '\\|')).join(' | ')} |`,
  );
  const rule = `| ${(rows[0] ?? []).map(() => '---').join(' | ')} |`;
  return [lines[0], rule, ...lines.slice(1)].join('\n');
};

/** A name is one line. */
const oneLine = (text: string): string => text.replace(/\s+/gu, ' ').trim();

/** The copedent of every neck, one after the other, under the setup's name. */
export function chartText(setup: Setup, form: ChartForm): string {
  const necks = setup.necks.map((neck, index) => ({
    name: oneLine(neck.name),
    rows: rowsOf(setup, index + 1, form === 'csv' ? inNotes : inSemitones),
  }));
  const isOne = necks.length === 1;
  if (form === 'csv')
    return csvText(
      necks.flatMap(({ name, rows }) => (isOne ? rows : [[`Neck ${name}`], ...rows, []])),
    );
  const written = necks.map(({ name, rows }) => {
    const table = form === 'markdown' ? asMarkdown(rows) : asColumns(rows);
    return isOne ? table : `${form === 'markdown' ? '### ' : ''}Neck ${name}\n\n${table}`;
  });
  const title = form === 'markdown' ? `## ${oneLine(setup.name)}` : oneLine(setup.name);
  return `${[title, ...written].join('\n\n')}\n`;
}
