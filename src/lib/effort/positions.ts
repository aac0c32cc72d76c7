/**
 * A ranking folded by hand position: the same neck, fret, slant and controls, with every grip that
 * lies there. Positions come in the order of their easiest grip, grips in the order of the ranking.
 */
import type { Answer } from './answer';

export interface Position {
  /** Places in the answer's ranking, ascending. */
  readonly places: readonly number[];
}

/** Every place of an answer once. */
export function positionsOf(answer: Answer): Position[] {
  const byKey = new Map<number, number[]>();
  for (let place = 0; place < answer.count; place++) {
    const key = answer.positionAt(place);
    const places = byKey.get(key);
    if (places === undefined) byKey.set(key, [place]);
    else places.push(place);
  }
  return [...byKey.values()].map((places) => ({ places }));
}
