/** How many raises and lowers each string needs, and how many its finger takes. */
import { FURTHEST, type StringRange, type StringRoom } from '$lib/setup/candidates';
import type { Setup } from '$lib/setup/setup';
import { USUAL_LOWER_HOLES_MM, USUAL_RAISE_HOLES_MM } from './usualChanger';

/** Rods of one string, and what its finger has for them. */
export interface Capacity {
  readonly neck: number;
  readonly string: number;
  readonly raises: number;
  readonly lowers: number;
  /** What the finger takes. */
  readonly raisesHad: number;
  readonly lowersHad: number;
  /** The owner has told what it takes; else it is the usual. */
  readonly told: { readonly raises: boolean; readonly lowers: boolean };
  readonly fits: boolean;
}

/** What every string needs and has, neck by neck; the controls under `without` count for nothing. */
export function capacities(setup: Setup, without: readonly string[] = []): Capacity[] {
  const pulls = setup.controls.flatMap((control) =>
    without.includes(control.id) ? [] : control.pulls,
  );
  const { changer } = setup;
  return setup.necks.flatMap(({ strings }, n) =>
    strings.map((string, s): Capacity => {
      const own = pulls.filter((pull) => pull.neck === n + 1 && pull.string === s + 1);
      const raises = own.filter(({ semitones }) => semitones > 0).length;
      const lowers = own.length - raises;
      const raisesTold = (string.raiseHolesMm ?? changer?.raiseHolesMm)?.length ?? changer?.raises;
      const lowersTold = (string.lowerHolesMm ?? changer?.lowerHolesMm)?.length ?? changer?.lowers;
      const raisesHad = raisesTold ?? USUAL_RAISE_HOLES_MM.length;
      const lowersHad = lowersTold ?? USUAL_LOWER_HOLES_MM.length;
      return {
        neck: n + 1,
        string: s + 1,
        raises,
        lowers,
        raisesHad,
        lowersHad,
        told: { raises: raisesTold !== undefined, lowers: lowersTold !== undefined },
        fits: raises <= raisesHad && lowers <= lowersHad,
      };
    }),
  );
}

/**
 * What is left for a further pull of a control, where the owner has told the changer: a string whose raises are all
 * taken is not raised any further, and so with lowers. Strings with room for both, or of which nothing is told, are left
 * out. The pulls of `controls` count for nothing, since a proposal takes their place.
 */
export const capacityRanges = (setup: Setup, ...controls: readonly string[]): StringRange[] =>
  capacities(setup, controls).flatMap(
    ({ neck, string, raises, lowers, raisesHad, lowersHad, told }) => {
      const noRaise = told.raises && raises >= raisesHad;
      const noLower = told.lowers && lowers >= lowersHad;
      if (!noRaise && !noLower) return [];
      return [{ neck, string, least: noLower ? 0 : -FURTHEST, most: noRaise ? 0 : FURTHEST }];
    },
  );

/**
 * The strings on which several new controls together may want more rods than are left, where the owner has told the
 * changer: how many raises and lowers are left for them. The pulls of `controls` count for nothing.
 */
export const roomFor = (setup: Setup, controls: readonly string[]): StringRoom[] =>
  capacities(setup, controls).flatMap(
    ({ neck, string, raises, lowers, raisesHad, lowersHad, told }) => {
      const left = (isTold: boolean, had: number, taken: number): number =>
        isTold ? Math.max(0, had - taken) : controls.length;
      const room = {
        ...{ neck, string },
        raises: left(told.raises, raisesHad, raises),
        lowers: left(told.lowers, lowersHad, lowers),
      };
      return room.raises >= controls.length && room.lowers >= controls.length ? [] : [room];
    },
  );
