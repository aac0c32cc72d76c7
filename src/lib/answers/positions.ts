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
