/** When the pulls of a control begin and end, and what the player feels of it. */
import type { RigControl } from './rig';

/** Shares of the travel, 0 to 1. */
export interface Timing {
  readonly firstStart: number;
  readonly lastStart: number;
  /** What lies between the first start and the last. */
  readonly spread: number;
  /** Where the half-stop is felt; none where no pull has one. */
  readonly half?: number;
  /** How far the half-stops of several pulls lie apart. */
  readonly halfSpread?: number;
  /** Pulls without a half-stop that begin before it, so that they are heard at it. */
  readonly early: readonly { readonly neck: number; readonly string: number }[];
}

/** A pull that begins less than this before the half-stop is not heard there. */
const NOT_HEARD = 0.005;

/** The timing of a control; none where nothing of it is rigged. */
export function timingOf({ rods }: RigControl): Timing | undefined {
  if (rods.length === 0) return undefined;
  const halves = rods.flatMap(({ halfShare }) => (halfShare === undefined ? [] : [halfShare]));
  const half = halves.length === 0 ? undefined : Math.max(...halves);
  const starts = rods.map(({ startShare }) => startShare);
  const firstStart = Math.min(...starts);
  const lastStart = Math.max(...starts);
  return {
    firstStart,
    lastStart,
    spread: lastStart - firstStart,
    ...(half === undefined ? {} : { half, halfSpread: half - Math.min(...halves) }),
    early: rods.flatMap(({ neck, string, startShare, halfShare }) =>
      half !== undefined && halfShare === undefined && startShare < half - NOT_HEARD
        ? [{ neck, string }]
        : [],
    ),
  };
}
