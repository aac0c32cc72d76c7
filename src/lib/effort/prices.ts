/**
 * What each part of a hold costs, in thousandths of the unit. Feet, picking hand and bar add up
 * independently, so each is priced once: by combination, by grip, by slant and fret.
 */
import type { Engaged, Neck, Setup } from '$lib/setup/setup';
import { stringsIn, type Grip } from '$lib/search/grip';
import type { NutIndex } from '$lib/search/nutIndex';
import { barTerms } from './bar';
import { thousandths, thousandthsOf } from './effort';
import type { Feet } from './feet';
import { homeStrings, pickingTerms } from './picking';
import { EVEN, type Balance, type WorkBalance } from './weights';

export interface Hand {
  readonly balance?: WorkBalance & Partial<Balance>;
  /** The fret where the bar is; left out where that does not matter. */
  readonly home?: number | undefined;
}

/** Frets that are priced, from 0. */
export const PRICED_FRETS = 2 ** 6;

/** Thousandths of effort for holding controls. */
export const feetPrice = (feet: Feet, engaged: readonly Engaged[]): number =>
  thousandthsOf(feet.effort(engaged), EVEN.feet);

/**
 * Thousandths of effort for picking a grip.
 *
 * @param home the neck's home strings
 * @param second the strings of its second home, where its lever is engaged
 */
export const pickingPrice = (
  neck: Neck,
  grip: Grip,
  home: readonly number[],
  balance: WorkBalance = EVEN,
  second: readonly number[] = [],
): number => thousandths(pickingTerms(neck, stringsIn(grip), home, second), 'picking', balance);

/** By fret: thousandths of effort for bringing the bar there under a slant, from `home` where told. */
export const barPrices = (
  setup: Setup,
  slant: number,
  { balance = EVEN, home }: Hand = {},
): Uint32Array =>
  Uint32Array.from({ length: PRICED_FRETS }, (_, fret) =>
    thousandths(barTerms(setup, fret, home, slant), 'bar', balance),
  );

export interface Prices {
  /** Holding a combination of the index. */
  readonly feet: (combination: number) => number;
  /** Picking a grip. */
  readonly picking: (grip: Grip) => number;
  /** The same with the lever of the neck's second home engaged; as above where there is none. */
  readonly pickingInSecondHome: (grip: Grip) => number;
  /** The bar by slant number (0 is straight, n is `slants[n − 1]`), then by fret. */
  readonly bar: readonly Uint32Array[];
}

/**
 * The prices of one neck; a grip is priced when it is first asked for.
 *
 * @param held by combination of the index: the effort of holding it, as `feetEffort` gives it
 * @param second the strings of the neck's second home, where it has one
 */
export function pricesOf(
  setup: Setup,
  index: NutIndex,
  held: Float64Array,
  hand: Hand = {},
  second: readonly number[] = [],
): Prices {
  const { balance = EVEN } = hand;
  const neck = setup.necks[index.on.neck - 1];
  if (neck === undefined) throw new Error(`neck ${index.on.neck} is not in the setup`);
  const weight = balance.feet;
  const home = homeStrings(neck);
  const pickingBy = (row: readonly number[]): ((grip: Grip) => number) => {
    const picking = new Int32Array(1 << index.on.strings).fill(-1);
    return (grip) => {
      const known = picking[grip] as number;
      if (known >= 0) return known;
      return (picking[grip] = pickingPrice(neck, grip, home, balance, row));
    };
  };
  const picking = pickingBy([]);
  // many grips lie under few slants
  const straight = barPrices(setup, 0, hand);
  const bySlant = new Map<number, Uint32Array>();
  for (const { slant } of index.slants)
    if (!bySlant.has(slant)) bySlant.set(slant, barPrices(setup, slant, hand));
  return {
    feet: (combination) => thousandthsOf(held[combination] as number, weight),
    picking,
    pickingInSecondHome: second.length === 0 ? picking : pickingBy(second),
    bar: [straight, ...index.slants.map(({ slant }) => bySlant.get(slant) ?? straight)],
  };
}
