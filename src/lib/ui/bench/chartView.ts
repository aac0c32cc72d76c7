/** The chart as data: strings down, controls across in their true places. */
import { prettyName, spokenName } from '$lib/theory/display';
import { chromaOf, pitchNamed, type Pitch } from '$lib/theory/pitch';
import { travelText } from '$lib/setup/edits/travelText';
import { wireText } from '$lib/setup/edits/wireText';
import { spelledBy } from '$lib/setup/spelledBy';
import {
  STATIONS,
  isPedal,
  type Control,
  type Neck,
  type Pull,
  type Setup,
  type Station,
} from '$lib/setup/setup';
import { semitonesText } from '$lib/setup/pullText';

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
  /** `F♯4`, and as it is typed. */
  readonly open: string;
  readonly openText: string;
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

/** Controls left to right as the player sits. */
export const inPlace = (controls: readonly Control[]): Control[] =>
  [...controls].sort((a, b) => STATIONS.indexOf(a.station) - STATIONS.indexOf(b.station));

const groupOf = (station: Station): string => (isPedal(station) ? 'P' : station.slice(0, 2));

/** "Pedal A, P1", "Lever LKL". */
export function spokenControl({ id, station }: Pick<Control, 'id' | 'station'>): string {
  const kind = isPedal(station) ? 'Pedal' : 'Lever';
  return id === station ? `${kind} ${id}` : `${kind} ${id}, ${station}`;
}

export const spokenPitch = (pitch: Pitch): string => `${spokenName(pitch)} ${pitch.octave}`;
export const pitchSign = (pitch: Pitch): string => `${prettyName(pitch)}${pitch.octave}`;

const semitones = (count: number): string =>
  `${Math.abs(count)} ${Math.abs(count) === 1 ? 'semitone' : 'semitones'}`;

/** The pitch that an open string has after some semitones, spelled as the neck's own strings are. */
export function pulledPitch(neck: Neck, open: Pitch, by: number): Pitch {
  const midi = open.midi + by;
  return by === 0 ? open : pitchNamed(spelledBy(neck)(chromaOf(midi)), midi);
}

function cellOf(neck: Neck, open: Pitch, pull: Pull | undefined): ChartCell {
  if (pull === undefined) return { text: '', interval: '', note: '', spoken: 'no pull' };
  const full = pulledPitch(neck, open, pull.semitones);
  const way = pull.semitones > 0 ? 'raised' : 'lowered';
  const said = `${way} ${semitones(pull.semitones)} to ${spokenPitch(full)}`;
  if (pull.half === undefined)
    return {
      text: travelText(pull),
      interval: semitonesText(pull.semitones),
      note: prettyName(full),
      spoken: said,
    };
  const half = pulledPitch(neck, open, pull.half);
  return {
    text: travelText(pull),
    interval: `${semitonesText(pull.half)} · ${semitonesText(pull.semitones)}`,
    note: `${prettyName(half)} · ${prettyName(full)}`,
    spoken: `${said}, half-stop at ${semitones(pull.half)}, ${spokenPitch(half)}`,
  };
}

export function chartView(setup: Setup, number: number): ChartView {
  const neck = setup.necks[number - 1];
  if (neck === undefined) throw new Error(`neck ${number} is not in the setup`);
  const controls = inPlace(setup.controls);
  return {
    neck: neck.name,
    controls: controls.map(({ id, station }, place) => ({
      id,
      station,
      spoken: spokenControl({ id, station }),
      begins: place > 0 && groupOf(controls[place - 1]?.station ?? station) !== groupOf(station),
    })),
    rows: neck.strings.map((string, index) => ({
      string: index + 1,
      open: pitchSign(string.open),
      openText: `${prettyName(string.open)}${string.open.octave}`,
      spokenOpen: spokenPitch(string.open),
      wire: wireText(string),
      spokenWire:
        string.gauge === undefined
          ? 'gauge not said'
          : `gauge ${wireText(string).replace('w', ', wound').replace('/', ', core ')}`,
      cells: controls.map((control) =>
        cellOf(
          neck,
          string.open,
          control.pulls.find((pull) => pull.neck === number && pull.string === index + 1),
        ),
      ),
    })),
  };
}
