/**
 * What a rig is taken to be where its owner has not measured it. All of it is a plain round value in the range
 * that all-pull instruments have, common practice from memory; no maker's drawing was at hand, and
 * makers differ. Whatever is counted with one of these is said to be.
 */
import { STATIONS, stationKind, type Control, type StationKind } from '$lib/setup/setup';

/** Distances of a finger's holes for raising rods from the axle, in millimetres: three raises. */
export const USUAL_RAISE_HOLES_MM: readonly number[] = [18, 23, 28];
/** The same for lowering rods: two lowers, farther down. */
export const USUAL_LOWER_HOLES_MM: readonly number[] = [33, 38];
/** Distances of a bell crank's holes from the middle of its cross shaft, in millimetres. */
export const USUAL_CRANK_HOLES_MM: readonly number[] = [10, 13, 16, 19, 22];
/** How far the cross shafts lie below the changer's axle, in millimetres; the bell cranks hang from them. */
export const USUAL_SHAFT_DEPTH_MM = 8;
/** How thick a cross shaft is, in millimetres. */
export const USUAL_SHAFT_THICK_MM = 8;
/** How thick a rod is, in millimetres. */
export const USUAL_ROD_MM = 2.4;
/** Degrees that a cross shaft turns between rest and stop. */
export const USUAL_TURN_DEGREES = 8;
/** Degrees that it turns with its stop let out. */
export const USUAL_MOST_TURN_DEGREES = 12;
/**
 * Travel at foot, knee or hand in millimetres. A pedal's is ¾ to 1 inch by a teacher's letter
 * (https://pedalsteelmusic.com/?p=857); of levers common practice, from memory.
 */
const USUAL_TRAVEL_MM: Readonly<Record<StationKind, number>> = {
  pedal: 22,
  knee: 20,
  hand: 12,
};
/** From the axle to the first cross shaft, and from each to the next, in millimetres. */
const FIRST_SHAFT_MM = 70;
const NEXT_SHAFT_MM = 28;

/** Where the cross shafts lie that nobody measured: in the order of the stations, one behind the other. */
export function usualShaftsMm(controls: readonly Control[]): ReadonlyMap<string, number> {
  const ordered = [...controls].sort(
    (a, b) => STATIONS.indexOf(a.station) - STATIONS.indexOf(b.station),
  );
  return new Map(ordered.map(({ id }, index) => [id, FIRST_SHAFT_MM + NEXT_SHAFT_MM * index]));
}

/** The usual travel of what works a control. */
export const usualTravelMm = ({ station }: Control): number =>
  USUAL_TRAVEL_MM[stationKind(station)];
