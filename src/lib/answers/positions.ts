/**
 * A ranking folded by hand position: the same neck, fret, slant and controls, with every grip that
 * lies there. Positions come in the order of their easiest grip, grips in the order of the ranking.
 */
import type { RankedVoicings } from '$lib/engine/rankedVoicings';

/** By position, the places of its grips in the ranking, ascending; every place of the ranking once. */
export function positionsOf(ranking: RankedVoicings): number[][] {
  const byPosition = new Map<number, number[]>();
  for (let place = 0; place < ranking.count; place++) {
    const position = ranking.positionAt(place);
    const places = byPosition.get(position);
    if (places === undefined) byPosition.set(position, [place]);
    else places.push(place);
  }
  return [...byPosition.values()];
}
