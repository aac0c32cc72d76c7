/** Beats of a measure as a band counts them, and how its grids are laid over them. */
import { quartersOf, type Metre } from '$lib/arrange/progression';
import type { Feel, Grid } from './feels';

/** How a metre is counted. */
export interface Counted {
  /** Beats of a whole measure. */
  readonly beats: number;
  /** Quarter notes of a beat. */
  readonly quarters: number;
  /** A beat falls into three: 6/8, 9/8, 12/8. */
  readonly compound: boolean;
}

/**
 * Compound metres (a multiple of three short notes, above three) by their dotted beats, and halves as two
 * quarters: the usual teaching of metre.
 */
export function countedBy(metre: Metre): Counted {
  const { beats, unit } = metre;
  if (unit >= 8 && beats > 3 && Number.isInteger(beats / 3))
    return { beats: beats / 3, quarters: 12 / unit, compound: true };
  if (unit <= 2) return { beats: quartersOf(metre), quarters: 1, compound: false };
  return { beats, quarters: 4 / unit, compound: false };
}

/** How many beats each grid of a measure is laid over: fours, with threes for what is left of an odd number. */
export function cellsOf(beats: number): number[] {
  if (beats === 6) return [3, 3];
  if (beats <= 4) return [beats];
  return beats === 5 ? [3, 2] : [4, ...cellsOf(beats - 4)];
}

/** A place of a grid in a measure. */
export interface Laid {
  readonly grid: Grid;
  /** The beat of the measure on which it begins, from 0. */
  readonly from: number;
  /** How many beats of it are played. */
  readonly beats: number;
}

/** The grids of a feel over a measure of so many beats; the `turn`-th of those that take turns. */
export function laidOver(feel: Feel, beats: number, turn: number): Laid[] {
  let from = 0;
  return cellsOf(beats).map((cell) => {
    const grids = cell === 3 ? feel.three : feel.four;
    const laid = { grid: grids[turn - grids.length * Math.floor(turn / grids.length)] as Grid };
    from += cell;
    return { ...laid, from: from - cell, beats: cell };
  });
}

/** Where the parts of a beat lie in a compound one, whose half is its last third. */
const IN_THREE = { 2: [0, 2 / 3], 3: [0, 1 / 3, 2 / 3], 4: [0, 1 / 3, 2 / 3, 5 / 6] } as const;

/** Beats from a grid's beginning to its step, which may be the one after the last. */
export function placeOf({ per }: Grid, step: number, compound: boolean): number {
  const beat = Math.floor(step / per);
  const part = step - beat * per;
  return beat + (compound ? (IN_THREE[per][part] ?? 0) : part / per);
}
