/**
 * How far the bar has to go from one chord to the next. From every fret where the first chord lies
 * the bar takes the shortest way to a fret where the second one lies; the figure is the mean of these
 * ways over all frets of the first, all twelve roots, and all twelve distances between the roots.
 * Which neck a chord lies on makes no difference, the bar being carried over.
 */
import { fretMm, type Setup } from '$lib/setup/setup';
import { rowAt, typeFretsOf, type TypeFrets } from './typeFrets';
import type { Repertoire } from '$lib/theory/repertoire';
import type { CountedShapes } from './typeShapes';
import { wantedType } from '$lib/theory/wantedType';

export interface Travel {
  readonly from: string;
  readonly to: string;
  /** Mean way in millimetres; `null` where one of the types lies nowhere on some root. */
  readonly mm: number | null;
}

export interface Travels {
  /** Mean over all pairs that can be played, weighted by how often both types are used. */
  readonly averageMm: number | null;
  readonly between: readonly Travel[];
}

/** By root and fret, as in `TypeFrets`: millimetres to the nearest fret where the chord lies. */
function nearestMm(setup: Setup, typeFrets: TypeFrets): Float64Array {
  const { frets, scaleLengthMm } = setup;
  const mm = Array.from({ length: frets + 1 }, (_, fret) => fretMm(fret, scaleLengthMm));
  const nearest = new Float64Array(12 * (frets + 1)).fill(Infinity);
  for (let root = 0; root < 12; root++) {
    const there = mm.map((_, fret) => typeFrets.whole[rowAt(typeFrets, root, fret)] !== 0);
    for (let from = 0; from <= frets; from++)
      for (let to = 0; to <= frets; to++)
        if (there[to]) {
          const index = rowAt(typeFrets, root, from);
          const way = Math.abs((mm[to] ?? 0) - (mm[from] ?? 0));
          nearest[index] = Math.min(nearest[index] as number, way);
        }
  }
  return nearest;
}

/** The same, added up over all roots: what it takes from a fret to the type on every root in turn. */
function overRoots(nearest: Float64Array): Float64Array {
  const sums = new Float64Array(nearest.length / 12);
  nearest.forEach(
    (mm, index) => (sums[index % sums.length] = (sums[index % sums.length] ?? 0) + mm),
  );
  return sums;
}

interface Reached {
  readonly typeFrets: TypeFrets;
  readonly allRoots: Float64Array;
}

/** Mean way from a type on every root to another on every root; the same chord is no way at all. */
function meanMm(from: Reached, to: Reached): number | null {
  const others = from === to ? 11 : 12;
  const { whole } = from.typeFrets;
  let sum = 0;
  let ways = 0;
  for (let index = 0; index < whole.length; index++) {
    if (whole[index] === 0) continue;
    // the way to the chord itself is 0, so that it makes no difference to the sum
    sum += to.allRoots[index % to.allRoots.length] as number;
    ways += others;
  }
  return ways === 0 || sum === Infinity ? null : sum / ways;
}

/** The ways from each type of a repertoire to each other and to itself on another root. */
export function travelsOf(shapes: CountedShapes, repertoire: Repertoire): Travels {
  const types = repertoire.map(({ type, weight }) => {
    const typeFrets = typeFretsOf(shapes, wantedType(type));
    return {
      type,
      weight,
      typeFrets,
      allRoots: overRoots(nearestMm(shapes.instrument.setup, typeFrets)),
    };
  });
  let sum = 0;
  let weights = 0;
  const between = types.flatMap((from) =>
    types.map((to): Travel => {
      const mm = meanMm(from, to);
      if (mm !== null) {
        sum += mm * from.weight * to.weight;
        weights += from.weight * to.weight;
      }
      return { from: from.type, to: to.type, mm };
    }),
  );
  return { averageMm: weights === 0 ? null : sum / weights, between };
}
