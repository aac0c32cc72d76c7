/** The stations as they are drawn: which control is where, left to right as the player sits. */
import {
  HAND,
  LEFT_KNEE,
  LEFT_KNEE_2,
  PEDALS,
  RIGHT_KNEE,
  RIGHT_KNEE_2,
  type Station,
} from '$lib/setup/setup';
import type { ControlView } from '../neck/neckView';

/** A station, and the control at it when there is one. */
export interface StationView {
  readonly station: Station;
  readonly control: ControlView | undefined;
}

export interface Stations {
  /** From the lowest pedal present to the highest; missing numbers stay empty stations. */
  readonly pedals: readonly StationView[];
  /** Left, up, right; empty when the knee has no lever at all. */
  readonly leftKnee: readonly StationView[];
  readonly rightKnee: readonly StationView[];
  /** The same of the knees' second banks. */
  readonly leftKnee2: readonly StationView[];
  readonly rightKnee2: readonly StationView[];
  /** Levers of the picking hand, those that are there. */
  readonly hand: readonly StationView[];
}

export function stationsOf(controls: readonly ControlView[]): Stations {
  const at = new Map(controls.map((control) => [control.station, control]));
  const stationAt = (station: Station): StationView => ({ station, control: at.get(station) });
  const numbers = PEDALS.flatMap((station, i) => (at.has(station) ? [i] : []));
  const first = numbers[0];
  const knee = (stations: readonly Station[]): StationView[] =>
    stations.some((station) => at.has(station)) ? stations.map(stationAt) : [];
  return {
    pedals:
      first === undefined ? [] : PEDALS.slice(first, (numbers.at(-1) ?? first) + 1).map(stationAt),
    leftKnee: knee(LEFT_KNEE),
    rightKnee: knee(RIGHT_KNEE),
    leftKnee2: knee(LEFT_KNEE_2),
    rightKnee2: knee(RIGHT_KNEE_2),
    hand: HAND.filter((station) => at.has(station)).map(stationAt),
  };
}

/** The least width of a station in CSS pixels, a finger's target. */
const STATION_PX = 44;

/** Stations in a row: all of them where there is room, else rows of nearly equal length. */
export function stationsPerRow(count: number, roomPx: number): number {
  const fit = Math.max(1, Math.floor(roomPx / STATION_PX));
  return Math.ceil(count / Math.ceil(count / fit || 1)) || 1;
}

/** How far a control has moved: 0 at rest, 1 fully engaged. */
export const moved = (control: ControlView): number =>
  ({ off: 0, half: 0.5, full: 1 })[control.state];
