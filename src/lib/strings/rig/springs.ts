/**
 * Return springs of the changer. A lowering lever is held at rest by its spring, against the open string that wants to turn
 * the finger the same way; so the spring's moment about the axle has to be more than tension × radius of the finger's top
 * (the law of the lever), or the string comes back flat. How much more makers differ about.
 */
import type { Setup } from '$lib/setup/setup';
import type { Rig } from './rig';

/** What the return spring of one string's lowers has to hold. */
export interface SpringNeed {
  readonly neck: number;
  readonly string: number;
  /** At least so much about the axle, in newton millimetres. */
  readonly momentNmm: number;
  /** … which is so much where a spring hooks into the lowest hole told, in newtons. */
  readonly atLowestHoleN: number;
  readonly lowestHoleMm: number;
}

/** Every string that is lowered and has figures, in the order of the setup. */
export const springNeeds = (setup: Setup, rig: Rig): SpringNeed[] =>
  setup.necks.flatMap(({ strings }, n) =>
    strings.flatMap((string, s): SpringNeed[] => {
      const lowered = rig.controls
        .flatMap(({ rods }) => rods)
        .find((rod) => rod.neck === n + 1 && rod.string === s + 1 && rod.kind === 'lower');
      if (lowered === undefined) return [];
      const momentNmm = lowered.openN * rig.described.radiusMm;
      const lowestHoleMm = Math.max(...rig.described.holesMm(string, 'lower'));
      return [
        {
          neck: n + 1,
          string: s + 1,
          momentNmm,
          atLowestHoleN: momentNmm / lowestHoleMm,
          lowestHoleMm,
        },
      ];
    }),
  );
