/**
 * The rods of one string, which run one over another from its finger to their cross shafts: which hole of the finger and
 * which of the bell crank each takes. Exact: of all ways to lay them the one that leaves out the fewest, and of
 * those the one whose starts lie nearest to where they are wanted.
 */

/** One place that a rod can take: its holes, where it runs, and what it costs. */
export interface RodPlace {
  /** From 1. */
  readonly hole: number;
  readonly crank: number;
  /** How far it lies below the axle at the finger, in millimetres. */
  readonly fingerDepthMm: number;
  /** … and at its bell crank. */
  readonly crankDepthMm: number;
  /** Share of the travel by which its start lies off where it is wanted; 0 or more. */
  readonly cost: number;
}

/** A rod that has to be laid. */
export interface LaneRod {
  readonly kind: 'raise' | 'lower';
  /** From the axle to its cross shaft, in millimetres. */
  readonly shaftMm: number;
  /** All that it can take by itself; a rod without any is left out. */
  readonly places: readonly RodPlace[];
}

/** Free room that rods keep from each other, beside their thickness, in millimetres (common practice, from memory). */
export const ROD_CLEARANCE_MM = 0.5;

/** The depth of a rod below the axle at a distance from it, in millimetres: rods are straight. */
const depthAtMm = (
  { fingerDepthMm, crankDepthMm }: RodPlace,
  shaftMm: number,
  atMm: number,
): number => fingerDepthMm + ((crankDepthMm - fingerDepthMm) * atMm) / shaftMm;

/**
 * Whether two rods of a string cannot both lie so: both in one hole, or closer than their thickness anywhere
 * between the finger and the nearer cross shaft. Between two places straight lines are closest at an end, unless they
 * cross.
 */
export function clash(
  a: LaneRod,
  atA: RodPlace,
  b: LaneRod,
  atB: RodPlace,
  rodMm: number,
): 'hole' | 'cross' | undefined {
  if (a.kind === b.kind && atA.hole === atB.hole) return 'hole';
  const near = Math.min(a.shaftMm, b.shaftMm);
  const least = rodMm + ROD_CLEARANCE_MM;
  const atFinger = atA.fingerDepthMm - atB.fingerDepthMm;
  const atShaft = depthAtMm(atA, a.shaftMm, near) - depthAtMm(atB, b.shaftMm, near);
  const apart =
    atFinger * atShaft > 0 && Math.min(Math.abs(atFinger), Math.abs(atShaft)) >= least - 1e-9;
  return apart ? undefined : 'cross';
}

/** A way to lay the rods: the index of each one's place, or nothing where it is left out. */
export interface LaidLane {
  readonly places: readonly (number | undefined)[];
  readonly leftOut: number;
  readonly cost: number;
  /** Nothing better exists; `false` where there were too many ways to look at all of them. */
  readonly proved: boolean;
}

/** Ways looked at before a string with more rods than any instrument has is given up on. */
const MOST_STEPS = 400_000;

/** Lays the rods of one string. Of equal ways the first, by the order of the rods and of their places. */
export function layLane(rods: readonly LaneRod[], rodMm: number): LaidLane {
  const least = rods.map(({ places }) => Math.min(...places.map(({ cost }) => cost)));
  /** What the rods from an index on cost at least. */
  const rest = rods.map((_, from) =>
    least.slice(from).reduce((sum, cost) => sum + (cost === Infinity ? 0 : cost), 0),
  );
  const hopeless = rods.map((_, from) =>
    least.slice(from).reduce((sum, cost) => sum + (cost === Infinity ? 1 : 0), 0),
  );
  let best: LaidLane = {
    places: rods.map(() => undefined),
    leftOut: Infinity,
    cost: Infinity,
    proved: true,
  };
  let steps = 0;
  const chosen: (number | undefined)[] = [];
  const lay = (index: number, leftOut: number, cost: number): void => {
    if (++steps > MOST_STEPS) return;
    const out = leftOut + (hopeless[index] ?? 0);
    // rods left out cost nothing, so the bound of the rest holds only where none more is left out
    if (out > best.leftOut) return;
    if (out === best.leftOut && cost + (rest[index] ?? 0) >= best.cost) return;
    const rod = rods[index];
    if (rod === undefined) {
      best = { places: [...chosen], leftOut, cost, proved: true };
      return;
    }
    rod.places.forEach((place, nth) => {
      for (let before = 0; before < index; before++) {
        const other = rods[before] as LaneRod;
        const at = chosen[before];
        const taken = at === undefined ? undefined : other.places[at];
        if (taken !== undefined && clash(rod, place, other, taken, rodMm) !== undefined) return;
      }
      chosen[index] = nth;
      lay(index + 1, leftOut, cost + place.cost);
    });
    chosen[index] = undefined;
    lay(index + 1, leftOut + 1, cost);
  };
  lay(0, 0, 0);
  return { ...best, proved: steps <= MOST_STEPS };
}
