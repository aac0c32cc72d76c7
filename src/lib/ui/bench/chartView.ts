/** The chart as data: strings down, controls across at their true stations. */
import { prettyName, prettyPitch, spokenPitch } from '$lib/theory/display';
import { copedentOf, semitonesIn, type CopedentCell } from '$lib/setup/copedent';
import { travelText } from '$lib/setup/edits/travelText';
import { wireText } from '$lib/setup/edits/wireText';
import { moveWords, semitonesWords } from '$lib/setup/moveWords';
import { type Setup, type Station } from '$lib/setup/setup';
import { spokenControl } from '$lib/setup/spokenControl';

export interface ChartControl {
  readonly id: string;
  readonly station: Station;
  /** "Pedal A, P1". */
  readonly spoken: string;
  /** The first of the levers, or of the right knee's: a rule stands before it. */
  readonly begins: boolean;
}

export interface ChartCell {
  /** As the reader of pulls takes it; empty where there is no pull. */
  readonly text: string;
  /** `+2`, `−1 · −2`. */
  readonly interval: string;
  /** `C♯`, `D · C♯`. */
  readonly note: string;
  /** "raised 2 semitones to C sharp 4". */
  readonly spoken: string;
}

export interface ChartRow {
  readonly string: number;
  /** `F♯4`, which can be typed as it stands. */
  readonly open: string;
  readonly spokenOpen: string;
  readonly wire: string;
  readonly spokenWire: string;
  /** In the order of the controls. */
  readonly cells: readonly ChartCell[];
}

export interface ChartView {
  readonly neck: string;
  readonly controls: readonly ChartControl[];
  readonly rows: readonly ChartRow[];
}

const NO_PULL: ChartCell = { text: '', interval: '', note: '', spoken: 'no pull' };

function cellText(cell: CopedentCell): ChartCell {
  const { pull, stops } = cell;
  const full = stops.at(-1);
  const half = stops.length > 1 ? stops[0] : undefined;
  if (full === undefined) return NO_PULL;
  const said = `${moveWords(full.semitones)} to ${spokenPitch(full.pitch)}`;
  return {
    text: travelText(pull),
    interval: semitonesIn(cell, ' · '),
    note: stops.map(({ pitch }) => prettyName(pitch)).join(' · '),
    spoken: half
      ? `${said}, half-stop at ${semitonesWords(half.semitones)}, ${spokenPitch(half.pitch)}`
      : said,
  };
}

/** The chart of a neck, 1 the first. */
export function chartView(setup: Setup, number: number): ChartView {
  const { neck, columns, rows } = copedentOf(setup, number);
  return {
    neck: neck.name,
    controls: columns.flatMap(({ station, group, control }, index) => {
      if (control === undefined) return [];
      const { id } = control;
      const begins = index > 0 && columns[index - 1]?.group !== group;
      return [{ id, station, spoken: spokenControl(control), begins }];
    }),
    rows: rows.map(({ number: row, string, cells }) => ({
      string: row,
      open: prettyPitch(string.open),
      spokenOpen: spokenPitch(string.open),
      wire: wireText(string),
      spokenWire:
        string.gauge === undefined
          ? 'gauge not said'
          : `gauge ${wireText(string).replace('w', ', wound').replace('/', ', core ')}`,
      cells: cells.map((cell) => (cell === undefined ? NO_PULL : cellText(cell))),
    })),
  };
}
