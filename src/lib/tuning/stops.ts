/**
 * What can be set on an instrument: every open string, the stop of every pull, full and half, and on a
 * changer with split stops that of every split. Each is free of the others; what a combination sounds
 * comes of the stretch that they add.
 */
import type { Midi } from '$lib/theory/pitch';
import { pullIn, type Engaged, type Setup } from '$lib/setup/setup';
import { movesOf } from '$lib/setup/sounding';
import {
  offsetOfParts,
  partsOf,
  splitStopOf,
  squareAt,
  squareOf,
  type Place,
} from '$lib/setup/stretch';
import { dropOf } from '$lib/setup/targets';

export interface Stop extends Place {
  /** What sounds there. */
  readonly midi: Midi;
}

/**
 * The stops of a neck: strings first, then the pulls in the order of the setup, half before full, then
 * the stops of splits.
 */
export function stopsOf(setup: Setup, neck: number): Stop[] {
  const strings = setup.necks[neck - 1]?.strings ?? [];
  const open = strings.map(({ open }, index): Stop => ({
    neck,
    string: index + 1,
    control: null,
    state: 'full',
    midi: open.midi,
  }));
  const openAt = (string: number): Midi => strings[string - 1]?.open.midi ?? 0;
  const pulls = setup.controls.flatMap(({ id, pulls }) =>
    pulls.filter((pull) => pull.neck === neck).map((pull) => ({ id, pull })),
  );
  const pulled = pulls.flatMap(({ id, pull }) =>
    (pull.half === undefined ? (['full'] as const) : (['half', 'full'] as const)).map(
      (state): Stop => ({
        neck,
        string: pull.string,
        control: id,
        state,
        midi: openAt(pull.string) + pullIn(pull, state),
      }),
    ),
  );
  const split = pulls.flatMap(({ id, pull }): Stop[] => {
    const stop = splitStopOf(setup, neck, pull.string, id);
    return stop ? [{ ...stop.place, midi: openAt(pull.string) + stop.semitones }] : [];
  });
  return [...open, ...pulled, ...split];
}

/** Are they the same stop: string, control, state and split? Strings and necks are numbered from 1. */
export const sameStop = (a: Place, b: Place): boolean =>
  a.neck === b.neck &&
  a.string === b.string &&
  a.control === b.control &&
  a.state === b.state &&
  a.raisedBy === b.raisedBy;

/** A sum of stops' offsets, with what no stop can change: the offset of a string under a combination. */
export interface OffsetSum {
  /** Stops by their index in `stopsOf`, each with its factor. */
  readonly terms: readonly (readonly [stop: number, factor: number])[];
  /** Cents: the fall under other controls' load, and in a split what the squares make of the ways. */
  readonly constant: number;
}

/**
 * The offset of a string under engaged controls as a sum of stops' offsets. Of a single pull, or the
 * open string, it is that stop's, exactly. Of a split it is the straight line that touches
 * 600·log₂(Σ ± 2^(cents/600)) where the stops stand at `at` (all at 0 where it is left out): exact
 * there, and off with the square of what they move: thousandths of a cent for two cents.
 */
export function offsetSum(
  setup: Setup,
  stops: readonly Stop[],
  neck: number,
  string: number,
  engaged: readonly Engaged[],
  at: ArrayLike<number> = [],
): OffsetSum {
  const indexOf = (place: Place): number => stops.findIndex((stop) => sameStop(stop, place));
  const targetAt = (place: Place): number => at[indexOf(place)] ?? 0;
  const parts = partsOf(setup, neck, string, engaged, targetAt);
  const drop = dropOf(setup, neck, string, engaged);
  const [first] = parts;
  if (parts.length === 1 && first !== undefined)
    return { terms: [[indexOf(first.place), 1]], constant: 0 - drop };
  const all = squareOf(parts, targetAt);
  const terms = parts.map(
    ({ place, factor, semitones }) =>
      [indexOf(place), (factor * squareAt(100 * semitones + targetAt(place))) / all] as const,
  );
  const move = movesOf(setup, neck, engaged)[string - 1] ?? 0;
  const here = offsetOfParts(parts, targetAt, move);
  const linear = terms.reduce((sum, [stop, factor]) => sum + factor * (at[stop] ?? 0), 0);
  return { terms, constant: here - linear - drop };
}

/** The value of a sum under offsets by stop. */
export const valueOf = ({ terms, constant }: OffsetSum, offsets: ArrayLike<number>): number =>
  terms.reduce((sum, [stop, factor]) => sum + factor * (offsets[stop] ?? 0), constant);

/** The exact offset of a string under engaged controls, in cents, with the stops at `offsets`. */
export const offsetAt = (
  setup: Setup,
  stops: readonly Stop[],
  place: { readonly neck: number; readonly string: number; readonly engaged: readonly Engaged[] },
  offsets: ArrayLike<number>,
): number =>
  valueOf(offsetSum(setup, stops, place.neck, place.string, place.engaged, offsets), offsets);
