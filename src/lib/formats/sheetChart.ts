/**
 * A neck's copedent as plain text in cells, with what other parts of the program add: what stands on
 * the bench sheet, before anything is drawn.
 */
import { prettyName, prettyPitch } from '$lib/theory/display';
import { copedentOf, semitonesIn, stationsWithFree, type CopedentCell } from '$lib/setup/copedent';
import { inchesText } from '$lib/setup/gaugeText';
import type { Setup, Station } from '$lib/setup/setup';
import { centsText } from '$lib/tuning/centsText';
import type { SheetExtras } from './sheetExtras';

export interface ChartCell {
  /** `C♯`, or with a half-stop `D / C♯`. */
  readonly note: string;
  /** `−2`, or with a half-stop `−1 / −2`. */
  readonly semitones: string;
  /** What else is known of the pull, a line each. */
  readonly further: readonly string[];
}

/** A station across the chart; those between others stay, even where no control is fitted. */
export interface ChartStation {
  readonly station: Station;
  readonly id: string | undefined;
  /** By string, string 1 first. */
  readonly cells: readonly (ChartCell | undefined)[];
}

export interface ChartGroup {
  readonly name: string;
  readonly stations: readonly ChartStation[];
}

export interface ChartString {
  readonly number: number;
  readonly open: string;
  readonly gauge: string;
  /** `wound`, `wound, core .014`; empty for plain wire. */
  readonly wire: string;
  /** One for each further column. */
  readonly further: readonly string[];
}

/** A row under the chart that says something of every control. */
export interface ChartFoot {
  readonly heading: string;
  /** By control id. */
  readonly texts: ReadonlyMap<string, string>;
}

export interface Chart {
  readonly neckName: string;
  readonly strings: readonly ChartString[];
  readonly furtherHeadings: readonly string[];
  readonly groups: readonly ChartGroup[];
  readonly feet: readonly ChartFoot[];
}

/**
 * What the sheet shows of a neck (1 is the first), with what other parts of the program add; over the
 * stations that have a control and those that are free between them, unless others are named.
 */
export function chartOf(
  setup: Setup,
  neckNumber: number,
  extras: SheetExtras = {},
  over: readonly Station[] = stationsWithFree(setup),
): Chart {
  const { neck, columns, rows } = copedentOf(setup, neckNumber, over);
  const cellText = (id: string, { pull, stops }: CopedentCell): ChartCell => ({
    note: stops.map(({ pitch }) => prettyName(pitch)).join(' / '),
    semitones: semitonesIn({ pull, stops }, ' / '),
    further: [
      ...(pull.cents === undefined ? [] : [`${centsText(pull.cents)} ¢`]),
      ...(extras.pulls ?? []).flatMap(({ cells }) =>
        cells.flatMap(({ control, neck, string, text }) =>
          control === id && neck === neckNumber && string === pull.string ? [text] : [],
        ),
      ),
    ],
  });
  const stations = columns.map(({ group, station, control }, column) => ({
    group,
    chartStation: {
      station,
      id: control?.id,
      cells: rows.map(({ cells }) => {
        const cell = cells[column];
        return control && cell && cellText(control.id, cell);
      }),
    },
  }));
  const hasCents = neck.strings.some(({ cents }) => cents !== undefined);
  const further = extras.strings ?? [];
  return {
    neckName: neck.name,
    furtherHeadings: [...(hasCents ? ['Cents'] : []), ...further.map(({ heading }) => heading)],
    strings: rows.map(({ number, string }) => ({
      number,
      open: prettyPitch(string.open),
      gauge: string.gauge === undefined ? '' : inchesText(string.gauge),
      wire:
        string.wound !== true
          ? ''
          : string.coreGauge === undefined
            ? 'wound'
            : `wound, core ${inchesText(string.coreGauge)}`,
      further: [
        ...(hasCents ? [string.cents === undefined ? '' : centsText(string.cents)] : []),
        ...further.map(
          ({ cells }) =>
            cells.find((cell) => cell.neck === neckNumber && cell.string === number)?.text ?? '',
        ),
      ],
    })),
    groups: [...new Set(stations.map(({ group }) => group))].map((name) => ({
      name,
      stations: stations.flatMap(({ group, chartStation }) =>
        group === name ? [chartStation] : [],
      ),
    })),
    feet: (extras.controls ?? []).map(({ heading, cells }) => ({
      heading,
      texts: new Map(cells.map(({ control, text }) => [control, text])),
    })),
  };
}
