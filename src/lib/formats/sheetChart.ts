/**
 * A neck's chart as plain text in cells, strings down and controls across in their true places: what
 * stands on the bench sheet, before anything is drawn.
 */
import { prettyName } from '$lib/theory/display';
import { chromaOf } from '$lib/theory/pitch';
import { gaugeText, semitonesText } from '$lib/setup/pullText';
import { spelledBy } from '$lib/setup/spelledBy';
import {
  LEFT_KNEE,
  PEDALS,
  RIGHT_KNEE,
  type Control,
  type Pull,
  type Setup,
  type Station,
} from '$lib/setup/setup';
import type { SheetExtras } from './sheetExtras';

export interface ChartCell {
  /** `C♯`, or with a half-stop `D / C♯`. */
  readonly note: string;
  /** `−2`, or with a half-stop `−1 / −2`. */
  readonly semitones: string;
  /** What else is known of the pull, a line each. */
  readonly further: readonly string[];
}

/** A place across the chart; places between others stay, even where no control is fitted. */
export interface ChartPlace {
  readonly station: Station;
  readonly id: string | undefined;
  /** By string, string 1 first. */
  readonly cells: readonly (ChartCell | undefined)[];
}

export interface ChartGroup {
  readonly name: string;
  readonly places: readonly ChartPlace[];
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

/** From the lowest pedal fitted to the highest, and all ways of a knee that has a lever. */
function stationGroups(setup: Setup): (readonly [name: string, stations: readonly Station[]])[] {
  const fitted = (stations: readonly Station[]): boolean[] =>
    stations.map((station) => setup.controls.some((control) => control.station === station));
  const pedals = fitted(PEDALS);
  const groups: (readonly [string, readonly Station[]])[] = [];
  if (pedals.includes(true))
    groups.push(['Pedals', PEDALS.slice(pedals.indexOf(true), pedals.lastIndexOf(true) + 1)]);
  if (fitted(LEFT_KNEE).includes(true)) groups.push(['Left knee', LEFT_KNEE]);
  if (fitted(RIGHT_KNEE).includes(true)) groups.push(['Right knee', RIGHT_KNEE]);
  return groups;
}

const centsText = (cents: number): string => {
  const size = Math.abs(cents).toFixed(1);
  return size === '0.0' ? '0' : `${cents < 0 ? '−' : '+'}${size}`;
};

export function chartOf(setup: Setup, neckNumber: number, extras: SheetExtras = {}): Chart {
  const neck = setup.necks[neckNumber - 1];
  if (neck === undefined)
    throw new Error(`neck ${neckNumber} of a setup with ${setup.necks.length}`);
  const nameOf = spelledBy(neck);
  const cellOf = (control: Control, pull: Pull): ChartCell => {
    const open = neck.strings[pull.string - 1]?.open.midi ?? 0;
    const stops = pull.half === undefined ? [pull.semitones] : [pull.half, pull.semitones];
    return {
      note: stops.map((stop) => prettyName(nameOf(chromaOf(open + stop)))).join(' / '),
      semitones: stops.map(semitonesText).join(' / '),
      further: [
        ...(pull.cents === undefined ? [] : [`${centsText(pull.cents)} ¢`]),
        ...(extras.pulls ?? []).flatMap(({ cells }) =>
          cells.flatMap((cell) =>
            cell.control === control.id && cell.neck === neckNumber && cell.string === pull.string
              ? [cell.text]
              : [],
          ),
        ),
      ],
    };
  };
  const placeOf = (station: Station): ChartPlace => {
    const control = setup.controls.find((each) => each.station === station);
    const pulls = control?.pulls.filter((pull) => pull.neck === neckNumber) ?? [];
    return {
      station,
      id: control?.id,
      cells: neck.strings.map((_, index) => {
        const pull = pulls.find(({ string }) => string === index + 1);
        return control && pull && cellOf(control, pull);
      }),
    };
  };
  const hasCents = neck.strings.some(({ cents }) => cents !== undefined);
  const columns = extras.strings ?? [];
  return {
    neckName: neck.name,
    furtherHeadings: [...(hasCents ? ['Cents'] : []), ...columns.map(({ heading }) => heading)],
    strings: neck.strings.map((string, index) => ({
      number: index + 1,
      open: `${prettyName(string.open)}${string.open.octave}`,
      gauge: string.gauge === undefined ? '' : gaugeText(string.gauge),
      wire:
        string.wound !== true
          ? ''
          : string.coreGauge === undefined
            ? 'wound'
            : `wound, core ${gaugeText(string.coreGauge)}`,
      further: [
        ...(hasCents ? [string.cents === undefined ? '' : centsText(string.cents)] : []),
        ...columns.map(
          ({ cells }) =>
            cells.find((cell) => cell.neck === neckNumber && cell.string === index + 1)?.text ?? '',
        ),
      ],
    })),
    groups: stationGroups(setup).map(([name, stations]) => ({
      name,
      places: stations.map(placeOf),
    })),
    feet: (extras.controls ?? []).map(({ heading, cells }) => ({
      heading,
      texts: new Map(cells.map(({ control, text }) => [control, text])),
    })),
  };
}
