/**
 * Moving controls to other stations. A control that is called by its station's name is called by the
 * new one afterwards, and the exceptions from the reach follow their controls.
 */
import { refuse } from '$lib/result';
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
  type Setup,
  type Station,
} from '../setup';
import { edited, type Edited } from './edited';

/** Every id replaced, in the exceptions too. */
export function renamed(setup: Setup, nameOf: (id: string) => string): Setup {
  const { never, also } = setup.reach;
  const each = (sets: readonly (readonly string[])[]): string[][] =>
    sets.map((ids) => ids.map(nameOf));
  return {
    ...setup,
    reach: {
      ...setup.reach,
      ...(never === undefined ? {} : { never: each(never) }),
      ...(also === undefined ? {} : { also: each(also) }),
    },
    controls: setup.controls.map((control) => ({ ...control, id: nameOf(control.id) })),
  };
}

/** Sends what is at each station to another; `to` must be a swap, so that it is its own way back. */
function swapped(setup: Setup, to: (station: Station) => Station): Setup {
  const names = new Map<string, string>(STATIONS.map((station) => [station, to(station)]));
  const called = renamed(setup, (id) => names.get(id) ?? id);
  return {
    ...called,
    controls: called.controls.map((control) => ({ ...control, station: to(control.station) })),
  };
}

const swap =
  (a: Station, b: Station) =>
  (station: Station): Station =>
    station === a ? b : station === b ? a : station;

/** Puts a control at a station; whatever was there takes its old station. */
export function setStation(setup: Setup, id: string, station: Station): Edited {
  const control = setup.controls.find((each) => each.id === id);
  if (control === undefined) return refuse(`There is no control ${id}.`);
  return edited(swapped(setup, swap(control.station, station)));
}

const ROWS: readonly (readonly Station[])[] = [
  PEDALS,
  [...LEFT_KNEE, ...RIGHT_KNEE],
  [...LEFT_KNEE_2, ...RIGHT_KNEE_2],
  HAND,
];

/** The station beside a control's own: pedals among pedals, levers among those of their bank. */
export function stationBeside(station: Station, by: 1 | -1): Station | undefined {
  const row = ROWS.find((each) => each.includes(station));
  return row?.[row.indexOf(station) + by];
}

/** A B C becomes C B A: the pedals from the first to the last change places about their middle. */
export function reversePedals(setup: Setup): Edited {
  const numbers = setup.controls
    .map(({ station }) => station)
    .filter(isPedal)
    .map(pedalNumber);
  if (numbers.length < 2) return refuse('There are no two pedals to change places.');
  const ends = Math.min(...numbers) + Math.max(...numbers);
  return edited(
    swapped(setup, (station) =>
      isPedal(station) ? (PEDALS[ends - pedalNumber(station) - 1] ?? station) : station,
    ),
  );
}
