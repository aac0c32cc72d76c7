/** What the legs can hold, by which of two new controls is in it. */
import { combinations } from '$lib/setup/reach';
import type { Engaged, Setup } from '$lib/setup/setup';
import { Feet } from '$lib/effort/feet';
import { feetPrice } from '$lib/effort/prices';

type Combinations = readonly (readonly Engaged[])[];

/** Combinations that engage the first of two controls alone, the second alone, and both. */
export interface PairKinds {
  readonly first: Combinations;
  readonly second: Combinations;
  readonly both: Combinations;
  /** Can either be let go whenever both are engaged, and is it no dearer then? */
  readonly canLetGo: boolean;
}

/** @param filled the setup with both controls, without pulls */
export function pairKinds(filled: Setup, [a, b]: readonly [string, string]): PairKinds {
  const kinds = { first: [], second: [], both: [] } as Record<
    'first' | 'second' | 'both',
    (readonly Engaged[])[]
  >;
  for (const engaged of combinations(filled)) {
    const [hasA, hasB] = [a, b].map((id) => engaged.some((each) => each.id === id));
    if (hasA === true || hasB === true)
      kinds[hasA !== true ? 'second' : hasB === true ? 'both' : 'first'].push(engaged);
  }
  const feet = new Feet(filled);
  const keyOf = (engaged: readonly Engaged[]): string =>
    engaged
      .map(({ id, state }) => `${id}:${state}`)
      .sort()
      .join();
  const prices = new Map(
    [...kinds.first, ...kinds.second].map((engaged) => [keyOf(engaged), feetPrice(feet, engaged)]),
  );
  const canLetGo = kinds.both.every((engaged) => {
    const price = feetPrice(feet, engaged);
    return [a, b].every((id) => {
      const less = prices.get(keyOf(engaged.filter((each) => each.id !== id)));
      return less !== undefined && less <= price;
    });
  });
  return { ...kinds, canLetGo };
}
