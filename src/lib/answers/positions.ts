/**
 * A ranking folded by hand position: the same neck, fret, slant and controls, with every grip that
 * lies there. Positions come in the order of their easiest grip, grips in the order of the ranking.
 */
import type { RankedVoicings } from '$lib/engine/rankedVoicings';

/** By position, the rows of its grips in the ranking, ascending; every row of the ranking once. */
export function positionsOf(ranking: RankedVoicings): number[][] {
  const byPosition = new Map<number, number[]>();
  for (let index = 0; index < ranking.count; index++) {
    const position = ranking.positionAt(index);
    const indexes = byPosition.get(position);
    if (indexes === undefined) byPosition.set(position, [index]);
    else indexes.push(index);
  }
  return [...byPosition.values()];
}

/** A row of the ranking, and the frets of the same voicing in other octaves, ascending. */
export interface OctaveRow {
  readonly index: number;
  readonly octaves: readonly number[];
}

/**
 * The first rows of a ranking with octaves folded: the same strings, slant and controls twelve frets
 * higher or lower are one thing to a player. A row stands where the easiest of its octaves does.
 *
 * @param most how many rows at most; all where left out
 */
export function octavesFolded(ranking: RankedVoicings, most = Infinity): OctaveRow[] {
  const rows = new Map<number, { index: number; octaves: number[] }>();
  for (let index = 0; index < ranking.count; index++) {
    const key = ranking.octavesAt(index);
    const row = rows.get(key);
    if (row !== undefined) row.octaves.push(ranking.fretAt(index));
    else if (rows.size < most) rows.set(key, { index, octaves: [] });
  }
  return [...rows.values()].map(({ index, octaves }) => ({
    index,
    octaves: octaves.sort((a, b) => a - b),
  }));
}

/** Folded rows by the position that each stands at, positions in the order of their first row. */
export function foldedPositions(ranking: RankedVoicings): OctaveRow[][] {
  const byPosition = new Map<number, OctaveRow[]>();
  for (const row of octavesFolded(ranking)) {
    const position = ranking.positionAt(row.index);
    const rows = byPosition.get(position);
    if (rows === undefined) byPosition.set(position, [row]);
    else rows.push(row);
  }
  return [...byPosition.values()];
}
