/** What is proposed, as the stand and the small chart draw it. */
import { prettyPitch, spokenName, spokenPitch } from '$lib/theory/display';
import { controlText } from '$lib/setup/controlText';
import { copedentOf, semitonesIn } from '$lib/setup/copedent';
import {
  HAND,
  LEFT_KNEE,
  LEFT_KNEE_2,
  PEDALS,
  RIGHT_KNEE,
  RIGHT_KNEE_2,
  STATIONS,
  isPedal,
  pedalNumber,
  type Control,
  type Pull,
  type Setup,
  type Station,
} from '$lib/setup/setup';
import { controlsView } from '$lib/ui/explore/neckAdapter';
import type { Ghost, ControlView } from '$lib/ui/neck/neckView';

const at = (setup: Setup, station: Station): Control | undefined =>
  setup.controls.find((control) => control.station === station);

function ghostAt(before: Setup, after: Setup, station: Station): Ghost | undefined {
  const [was, is] = [at(before, station), at(after, station)];
  if (is === undefined) return was === undefined ? 'free' : 'removed';
  if (was === undefined) return 'added';
  return controlText(was) === controlText(is) ? undefined : 'altered';
}

const GHOST_WORDS: Readonly<Record<Ghost, string>> = {
  free: 'free',
  added: 'proposed',
  altered: 'proposed otherwise',
  removed: 'to be removed',
};

/**
 * Stations to work on: those of both setups, every one of the knees, one pedal more; a knee's second bank
 * where it has a lever or the first is full, and the hand's where one is there or there are no pedals.
 */
function stationsShown(before: Setup, after: Setup): Station[] {
  const pedals = [...before.controls, ...after.controls]
    .map(({ station }) => station)
    .filter(isPedal)
    .map(pedalNumber);
  const last = Math.min(PEDALS.length, Math.max(0, ...pedals) + 1);
  const first = Math.min(last, ...pedals);
  const shown = PEDALS.slice(pedals.length === 0 ? 0 : Math.max(0, first - 2), last);
  const fitted = (station: Station): boolean =>
    (at(before, station) ?? at(after, station)) !== undefined;
  const second = (first: readonly Station[], bank: readonly Station[]): readonly Station[] =>
    first.every(fitted) || bank.some(fitted) ? bank : [];
  const stations: readonly Station[] = [
    ...shown,
    ...LEFT_KNEE,
    ...second(LEFT_KNEE, LEFT_KNEE_2),
    ...RIGHT_KNEE,
    ...second(RIGHT_KNEE, RIGHT_KNEE_2),
    ...(pedals.length === 0 || HAND.some(fitted) ? HAND : []),
  ];
  return STATIONS.filter((station) => stations.includes(station));
}

/** The stand with what is proposed on it; the station that is worked on is drawn moved. */
export function proposalStand(
  before: Setup,
  after: Setup,
  neck: number,
  chosen: Station | undefined,
): ControlView[] {
  const drawn = new Map(
    [...controlsView(before, neck, []), ...controlsView(after, neck, [])].map((each) => [
      each.station,
      each,
    ]),
  );
  return stationsShown(before, after).map((station) => {
    const ghost = ghostAt(before, after, station);
    const control = drawn.get(station);
    const spoken = control?.spoken ?? `Station ${station}`;
    return {
      id: control?.id ?? station,
      station,
      state: station === chosen ? 'full' : 'off',
      hasHalf: false,
      pullsHere: control === undefined || control.pullsHere,
      spoken: ghost === undefined ? spoken : `${spoken}, ${GHOST_WORDS[ghost]}`,
      reachable: true,
      ...(ghost === undefined ? {} : { ghost }),
    };
  });
}

export interface ChartCell {
  /** `+2`; empty where there is no pull. */
  readonly text: string;
  /** What stood there before, where that was something else. */
  readonly was?: string;
}

export interface SmallChart {
  readonly columns: readonly {
    readonly station: Station;
    readonly id: string;
    readonly ghost: Ghost | undefined;
  }[];
  readonly rows: readonly {
    readonly string: number;
    /** `F♯4`. */
    readonly open: string;
    readonly wasOpen?: string;
    readonly cells: readonly ChartCell[];
  }[];
}

/** The copedent of what is proposed, over the stations of both setups, with what stood there before. */
export function smallChart(before: Setup, after: Setup, neck: number): SmallChart {
  const stations = STATIONS.filter((station) => at(before, station) ?? at(after, station));
  const was = before.necks[neck - 1] && copedentOf(before, neck, stations);
  const is = after.necks[neck - 1] && copedentOf(after, neck, stations);
  return {
    columns: stations.map((station) => ({
      station,
      id: (at(after, station) ?? at(before, station))?.id ?? station,
      ghost: ghostAt(before, after, station),
    })),
    rows: (is?.rows ?? []).map(({ number, string: { open }, cells }, index) => {
      const row = was?.rows[index];
      const wasOpen = row?.string.open;
      return {
        string: number,
        open: prettyPitch(open),
        ...(wasOpen === undefined || wasOpen.midi === open.midi
          ? {}
          : { wasOpen: prettyPitch(wasOpen) }),
        cells: cells.map((cell, column) => {
          const text = semitonesIn(cell);
          const there = semitonesIn(row?.cells[column]);
          return text === there ? { text } : { text, was: there };
        }),
      };
    }),
  };
}

export interface StringPull {
  readonly neck: number;
  readonly string: number;
  readonly open: string;
  readonly semitones: number;
  /** `+2`, `−1/−2`, `–`. */
  readonly text: string;
  /** The note it gives. */
  readonly gives: string;
  readonly spoken: string;
}

/** Every string of a neck with what the control at a station does to it, if there is one. */
export function stringPulls(setup: Setup, station: Station, neck: number): StringPull[] {
  if (setup.necks[neck - 1] === undefined) return [];
  const { rows } = copedentOf(setup, neck, [station]);
  return rows.map(({ number, string: { open }, cells: [cell] }) => {
    const full = cell?.stops.at(-1);
    return {
      neck,
      string: number,
      open: prettyPitch(open),
      semitones: full?.semitones ?? 0,
      text: semitonesIn(cell) || '–',
      gives: full ? prettyPitch(full.pitch) : '',
      spoken: full
        ? `string ${number}, ${spokenPitch(open)}, ${full.semitones > 0 ? 'up' : 'down'} ${Math.abs(full.semitones)} to ${spokenName(full.pitch)}`
        : `string ${number}, ${spokenPitch(open)}, not moved`,
    };
  });
}

/** A control's pulls with one string moved on by a semitone; at 0 the pull is gone. */
export function stepped(
  pulls: readonly Pull[],
  neck: number,
  string: number,
  by: 1 | -1,
): readonly Pull[] {
  const own = pulls.find((each) => each.neck === neck && each.string === string);
  const semitones = Math.max(-7, Math.min(7, (own?.semitones ?? 0) + by));
  const others = pulls.filter((each) => each !== own);
  return semitones === 0 ? others : [...others, { neck, string, semitones }];
}
