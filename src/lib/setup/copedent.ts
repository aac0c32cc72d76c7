/**
 * A neck's copedent, the trade's chart of strings against controls, as data: columns are stations
 * left to right as the player sits, rows are strings, and a cell says where the column's control takes
 * the row's string. The page, the bench sheet and the small chart of a proposal all draw from it.
 */
import { chromaOf, pitchNamed, type Pitch } from '$lib/theory/pitch';
import { signed } from '$lib/theory/signed';
import {
  HAND,
  LEFT_KNEE,
  LEFT_KNEE_2,
  PEDALS,
  RIGHT_KNEE,
  RIGHT_KNEE_2,
  STATIONS,
  type Control,
  type Neck,
  type Pull,
  type Setup,
  type SetupString,
  type Station,
} from './setup';
import { spelledBy } from './spelledBy';

/** The stations by the limb that works them. */
const GROUPS = [
  ['Pedals', PEDALS],
  ['Left knee', LEFT_KNEE],
  ['Left knee 2', LEFT_KNEE_2],
  ['Right knee', RIGHT_KNEE],
  ['Right knee 2', RIGHT_KNEE_2],
  ['Hand', HAND],
] as const satisfies readonly (readonly [string, readonly Station[]])[];

export type StationGroup = (typeof GROUPS)[number][0];

export interface CopedentColumn {
  readonly station: Station;
  readonly group: StationGroup;
  /** None where the station is free. */
  readonly control: Control | undefined;
}

/** Where a pull can rest, and the pitch that the open string then has, spelled as the neck's own strings are. */
export interface Stop {
  /** From the open string. */
  readonly semitones: number;
  readonly pitch: Pitch;
}

export interface CopedentCell {
  readonly pull: Pull;
  /** The half-stop, where there is one, then the full pull. */
  readonly stops: readonly Stop[];
}

export interface CopedentRow {
  /** 1 is farthest from the player. */
  readonly number: number;
  readonly string: SetupString;
  /** In the order of the columns; none where the string is not moved. */
  readonly cells: readonly (CopedentCell | undefined)[];
}

export interface Copedent {
  readonly neck: Neck;
  readonly columns: readonly CopedentColumn[];
  readonly rows: readonly CopedentRow[];
}

const controlAt = (setup: Setup, station: Station): Control | undefined =>
  setup.controls.find((control) => control.station === station);

/** The stations that have a control. */
export const fittedStations = (setup: Setup): Station[] =>
  STATIONS.filter((station) => controlAt(setup, station));

/**
 * From the lowest pedal fitted to the highest, and all ways of a bank of knee levers that has one, free
 * or not; of the hand’s levers those that are fitted.
 */
export function stationsWithFree(setup: Setup): Station[] {
  const fitted = fittedStations(setup);
  return GROUPS.flatMap(([name, stations]): readonly Station[] => {
    const there = stations.map((station) => fitted.includes(station));
    if (!there.includes(true)) return [];
    if (name === 'Hand') return stations.filter((_, index) => there[index]);
    return name === 'Pedals'
      ? stations.slice(there.indexOf(true), there.lastIndexOf(true) + 1)
      : stations;
  });
}

function groupOf(station: Station): StationGroup {
  for (const [name, stations] of GROUPS)
    if ((stations as readonly Station[]).includes(station)) return name;
  throw new Error(`station ${station}; there are ${STATIONS.join(', ')}`);
}

/** The pitch that an open string has after some semitones, spelled as the neck's own strings are. */
export function pulledPitch(neck: Neck | undefined, open: Pitch, by: number): Pitch {
  const midi = open.midi + by;
  return by === 0 ? open : pitchNamed(spelledBy(neck)(chromaOf(midi)), midi);
}

/** The chart of a neck (1 is the first) over some stations, by default those that have a control. */
export function copedentOf(
  setup: Setup,
  number: number,
  stations: readonly Station[] = fittedStations(setup),
): Copedent {
  const neck = setup.necks[number - 1];
  if (neck === undefined) throw new Error(`neck ${number} of a setup with ${setup.necks.length}`);
  const nameOf = spelledBy(neck);
  const columns = stations.map((station) => ({
    station,
    group: groupOf(station),
    control: controlAt(setup, station),
  }));
  const cellOf = (pull: Pull, open: Pitch): CopedentCell => {
    const { half, semitones } = pull;
    return {
      pull,
      stops: (half === undefined ? [semitones] : [half, semitones]).map((by) => ({
        semitones: by,
        pitch: pitchNamed(nameOf(chromaOf(open.midi + by)), open.midi + by),
      })),
    };
  };
  return {
    neck,
    columns,
    rows: neck.strings.map((string, index) => ({
      number: index + 1,
      string,
      cells: columns.map(({ control }) => {
        const pull = control?.pulls.find(
          (each) => each.neck === number && each.string === index + 1,
        );
        return pull && cellOf(pull, string.open);
      }),
    })),
  };
}

/** The semitones of every stop with a real minus, `−1/−2`; empty where the string is not moved. */
export const semitonesIn = (cell: CopedentCell | undefined, between = '/'): string =>
  (cell?.stops ?? []).map(({ semitones }) => signed(semitones)).join(between);
