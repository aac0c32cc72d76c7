/** The places of the stand: which control stands where, left to right as the player sits. */
import { LEFT_KNEE, PEDALS, RIGHT_KNEE, type Station } from '$lib/setup/setup';
import type { StandControl } from '../table/tableView';

/** A place, and the control in it when there is one. */
export interface Place {
  readonly station: Station;
  readonly control: StandControl | undefined;
}

export interface StandLayout {
  /** From the lowest pedal present to the highest; missing numbers stay empty places. */
  readonly pedals: readonly Place[];
  /** Left, up, right; empty when the knee has no lever at all. */
  readonly leftKnee: readonly Place[];
  readonly rightKnee: readonly Place[];
}

export function placesOf(controls: readonly StandControl[]): StandLayout {
  const at = new Map(controls.map((control) => [control.station, control]));
  const place = (station: Station): Place => ({ station, control: at.get(station) });
  const numbers = PEDALS.flatMap((station, i) => (at.has(station) ? [i] : []));
  const first = numbers[0];
  const knee = (stations: readonly Station[]): Place[] =>
    stations.some((station) => at.has(station)) ? stations.map(place) : [];
  return {
    pedals:
      first === undefined ? [] : PEDALS.slice(first, (numbers.at(-1) ?? first) + 1).map(place),
    leftKnee: knee(LEFT_KNEE),
    rightKnee: knee(RIGHT_KNEE),
  };
}

/** The least width of a place in CSS pixels, a finger's target. */
const PLACE_PX = 44;

/** Places in a row: all of them where there is room, else rows of nearly equal length. */
export function placesPerRow(places: number, roomPx: number): number {
  const fit = Math.max(1, Math.floor(roomPx / PLACE_PX));
  return Math.ceil(places / Math.ceil(places / fit || 1)) || 1;
}

/** How far a control has moved: 0 at rest, 1 fully engaged. */
export const moved = (control: StandControl): number =>
  ({ off: 0, half: 0.5, full: 1 })[control.state];
