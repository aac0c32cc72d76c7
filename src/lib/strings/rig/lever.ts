/**
 * The geometry of one pull: a cross shaft turns a bell crank, the crank draws a rod, the rod turns the changer's
 * finger about its axle, and the string lies over the finger's round top. Each step is the law of the lever: a point at
 * distance d from an axis that turns by φ goes along its arc by d·φ, and across its arm by d·sin φ. Rod
 * and arms are taken to stand square at rest, as they are set at the bench (common practice, from memory).
 */

/** Degrees as radians. */
export const radians = (degrees: number): number => (degrees * Math.PI) / 180;
/** Radians as degrees. */
export const degrees = (radians_: number): number => (radians_ * 180) / Math.PI;

/** What a pull is worked by: lengths in millimetres. */
export interface Levers {
  /** Radius of the finger's top, over which the string bends. */
  readonly radiusMm: number;
  /** From the axle to the rod's hole in the finger. */
  readonly holeMm: number;
  /** From the middle of the cross shaft to the rod's hole in the crank. */
  readonly crankMm: number;
}

/**
 * Millimetres that a rod moves for a string that moves by `stretchMm`, whichever way: the finger turns by
 * stretch over radius, and its hole goes across by holeMm·sin of that. `undefined` where the finger would have to turn
 * by a right angle or more.
 */
export function rodWayMm({ radiusMm, holeMm }: Levers, stretchMm: number): number | undefined {
  const turn = Math.abs(stretchMm) / radiusMm;
  return turn >= Math.PI / 2 ? undefined : holeMm * Math.sin(turn);
}

/** The stretch in millimetres that a rod gives when it moves by `wayMm`: the way back of `rodWayMm`. */
export const stretchOfRodMm = ({ radiusMm, holeMm }: Levers, wayMm: number): number =>
  radiusMm * Math.asin(Math.min(1, wayMm / holeMm));

/**
 * The turn in radians at which a pull must begin so that it ends at `stop`, both turns of the cross shaft from
 * rest: sin(start) = sin(stop) − way/crank. The screw at the rod's end sets it. `undefined` where the crank
 * cannot draw the rod so far.
 */
export function startTurn(levers: Levers, stretchMm: number, stop: number): number | undefined {
  const way = rodWayMm(levers, stretchMm);
  if (way === undefined) return undefined;
  const sine = Math.sin(stop) - way / levers.crankMm;
  return sine < 0 ? undefined : Math.asin(sine);
}

/** The turn in radians at which a pull that begins at `start` has drawn its string by `stretchMm`. */
export function turnAt(levers: Levers, stretchMm: number, start: number): number | undefined {
  const way = rodWayMm(levers, stretchMm);
  if (way === undefined) return undefined;
  const sine = Math.sin(start) + way / levers.crankMm;
  return sine > 1 ? undefined : Math.asin(sine);
}

/** The stretch in millimetres when the shaft has turned from `start` to `turn`; 0 before it. */
export const stretchAt = (levers: Levers, start: number, turn: number): number =>
  turn <= start ? 0 : stretchOfRodMm(levers, levers.crankMm * (Math.sin(turn) - Math.sin(start)));

/**
 * Millimetres of stretch for each radian of the shaft, at a turn and a stretch: the rod has one speed at both
 * ends, crank·cos(turn) and hole·cos(stretch/radius)/radius.
 */
export const stretchRate = (
  { radiusMm, holeMm, crankMm }: Levers,
  stretchMm: number,
  turn: number,
): number => (radiusMm * crankMm * Math.cos(turn)) / (holeMm * Math.cos(stretchMm / radiusMm));
