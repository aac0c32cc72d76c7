/** What stands at a spot of the copedent, how the spot is called, and the edit that a text typed there means. */
import { remembered, type Edited } from '$lib/setup/edits/edited';
import {
  readHead,
  setHead,
  setOpens,
  setPullsAlong,
  setWires,
  wordsOfLine,
} from '$lib/setup/edits/lines';
import { nudgePull, setPull, type Cell } from '$lib/setup/edits/pulls';
import { nudgeOpen, setOpen, setWire } from '$lib/setup/edits/strings';
import type { Setup } from '$lib/setup/setup';
import { unlikelyGauge } from '$lib/strings/gauges';
import type { Typing } from '$lib/ui/kit/fieldText.svelte';
import { textInLetters } from '$lib/ui/kit/noteNames.svelte';
import { FIRST_CONTROL, GAUGE, NUMBER, OPEN, type Spot } from './chartKeys';
import type { ChartView } from './chartView';

export type Edit = (setup: Setup) => Edited;

/** What was written where it cannot be, and why not. */
export interface Refused {
  readonly spot: Spot;
  readonly where: string;
  readonly text: string;
  readonly why: string;
}

/** How a component makes edits: those of a field give their fault, to stand at it. */
export interface Edits {
  readonly make: (edit: Edit, label: string) => boolean;
  readonly fill: (edit: Edit, label: string, options: Typing) => string | undefined;
}

export const spotKey = ({ row, column }: Spot): string => `${row}:${column}`;

/** The control of a spot's column; none in the columns of the strings. */
export const controlAt = (chart: ChartView, { column }: Spot): string | undefined =>
  chart.controls[column - FIRST_CONTROL]?.id;

/** The cell of a pull. */
export function cellAt(chart: ChartView, neck: number, spot: Spot): Cell | undefined {
  const id = controlAt(chart, spot);
  return id === undefined || spot.row === 0 ? undefined : { id, neck, string: spot.row };
}

/** What stands there, as it is typed; `undefined` where nothing can be typed. */
export function textAt(chart: ChartView, spot: Spot): string | undefined {
  const { row, column } = spot;
  if (row === 0) return controlAt(chart, spot);
  const string = chart.rows[row - 1];
  if (column === OPEN) return string?.open;
  if (column === GAUGE) return string?.wire;
  return column === NUMBER ? undefined : string?.cells[column - FIRST_CONTROL]?.text;
}

/** `the id of A`, `string 3, gauge`, `A on string 5`. */
export function whereOf(chart: ChartView, spot: Spot): string {
  const { row, column } = spot;
  const id = controlAt(chart, spot) ?? '';
  if (row === 0) return `the id of ${id}`;
  if (column === OPEN) return `string ${row}, open note`;
  return column === GAUGE ? `string ${row}, gauge` : `${id} on string ${row}`;
}

/** Does a text say more than one cell holds? Then it fills those after it too. */
const isLine = (text: string): boolean => wordsOfLine(text).length > 1;

/** Is a text on its way nothing to go by yet: empty, or a line that says more than one thing? */
export const isUnsettled = (text: string): boolean => text.trim() === '' || isLine(text);

/** What an edit of a text is called: where it is typed, or of what control these are the pulls. */
export const labelOf = (chart: ChartView, spot: Spot, text: string): string =>
  spot.row > 0 || readHead(text).pulls === undefined
    ? whereOf(chart, spot)
    : `pulls of ${controlAt(chart, spot) ?? ''}`;

export function editAt(
  chart: ChartView,
  neck: number,
  spot: Spot,
  typed: string,
): Edit | undefined {
  const { row, column } = spot;
  if (row === 0) {
    const id = controlAt(chart, spot) ?? '';
    // its id may look like a note
    const head = typed.replace(/(^|\s)\d.*/u, (pulls) => textInLetters('words', pulls));
    return (setup) => setHead(setup, id, neck, head);
  }
  const text = textInLetters('words', typed);
  if (isLine(text)) {
    if (column === OPEN) return (setup) => setOpens(setup, neck, row, text);
    if (column === GAUGE) return remembered((setup) => setWires(setup, neck, row, text));
    const ids = chart.controls.slice(column - FIRST_CONTROL).map(({ id }) => id);
    return column === NUMBER
      ? undefined
      : (setup) => setPullsAlong(setup, { neck, string: row }, ids, text);
  }
  if (column === OPEN) return (setup) => setOpen(setup, neck, row, text);
  // whether it is likely is asked of what it makes
  if (column === GAUGE) return remembered((setup) => setWire(setup, neck, row, text));
  const cell = cellAt(chart, neck, spot);
  return cell && ((setup) => setPull(setup, cell, text));
}

/** A semitone up or down, for a pull or an open string. */
export function nudgeAt(chart: ChartView, neck: number, spot: Spot, by: 1 | -1): Edit | undefined {
  const cell = cellAt(chart, neck, spot);
  if (cell !== undefined) return (setup) => nudgePull(setup, cell, by);
  const { row, column } = spot;
  return column === OPEN && row > 0 ? (setup) => nudgeOpen(setup, neck, row, by) : undefined;
}

/** Why what an edit would put at a spot is unlikely, as a sentence that asks. */
export function oddAt(setup: Setup, neck: number, spot: Spot, edit: Edit): string | undefined {
  if (spot.column !== GAUGE || spot.row === 0) return undefined;
  const next = edit(setup);
  const why = next.ok ? unlikelyGauge(next.value, neck, spot.row) : undefined;
  return why && `${why} Enter it once more to take it.`;
}
