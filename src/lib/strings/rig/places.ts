/** The places that one rod can take by itself: which holes there are, which reach, which are in the way of a shaft. */
import type { DescribedRig, Shaft } from './described';
import type { RodPlace } from './lane';
import { stretchOfRodMm, turnAt, type Levers } from './lever';
import type { WantedPull } from './wantedPull';

/** A place that a pull may take, with its levers. */
export interface Option extends RodPlace {
  readonly levers: Levers;
  readonly startShare: number;
}

/** A pull on its string, with the holes it may take. */
export interface Job {
  readonly pull: WantedPull;
  readonly shaft: Shaft;
  readonly holesMm: readonly number[];
}

/** The levers of every hole of the finger with every hole of the crank; only those told where they are to be kept. */
export function leversOf(
  { pull, holesMm }: Job,
  { radiusMm, crankHolesMm }: DescribedRig,
  free: boolean,
): { readonly hole: number; readonly crank: number; readonly levers: Levers }[] {
  return holesMm.flatMap((holeMm, h) =>
    crankHolesMm.flatMap((crankMm, c) => {
      const [hole, crank] = [h + 1, c + 1];
      if (!free && pull.hole !== undefined && pull.hole !== hole) return [];
      if (!free && pull.crank !== undefined && pull.crank !== crank) return [];
      // the leverage is measured at the hole that is told; in others it is not known
      const measured = pull.leverage !== undefined && pull.hole === hole;
      const arm = measured ? (pull.leverage ?? 1) * radiusMm : holeMm;
      return [{ hole, crank, levers: { radiusMm, holeMm: arm, crankMm } }];
    }),
  );
}

/** The least turn in radians at which a pull can be done after the slack; `Infinity` where none is enough. */
export function leastStop(levers: Levers, pull: WantedPull, slack: number): number {
  return turnAt(levers, pull.stretchMm ?? 0, slack) ?? Infinity;
}

/** Does a rod so laid run through the cross shaft of another control? */
export const throughShaft = (
  place: Pick<RodPlace, 'fingerDepthMm' | 'crankDepthMm'>,
  own: Shaft,
  { shafts, shaftDepthMm, shaftThickMm, rodMm }: DescribedRig,
): Shaft | undefined =>
  [...shafts.values()].find((shaft) => {
    if (shaft.control === own.control || shaft.atMm >= own.atMm) return false;
    const depth =
      place.fingerDepthMm + ((place.crankDepthMm - place.fingerDepthMm) * shaft.atMm) / own.atMm;
    return Math.abs(depth - shaftDepthMm) < (shaftThickMm + rodMm) / 2;
  });

/** The farthest that a pull's string can be stretched within the most turn, in millimetres, over all holes. */
export function farthestMm(job: Job, rig: DescribedRig, free: boolean): number {
  const { shaft } = job;
  const sine = Math.sin(shaft.mostStop) - Math.sin(shaft.slack);
  return Math.max(
    0,
    ...leversOf(job, rig, free).map(({ levers }) => stretchOfRodMm(levers, levers.crankMm * sine)),
  );
}
