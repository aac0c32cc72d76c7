/**
 * What each part of a hold costs, in thousandths of the unit. Feet, picking hand and bar add up
 * independently, so each is priced once: by combination, by grip, by slant and fret.
 */
import type { Setup } from '$lib/setup/setup';
import type { NutIndex } from '$lib/search/nutIndex';
import { barTerms } from './bar';
import { thousandths } from './effort';
import { feetTerms } from './feet';
import { pickingTerms } from './picking';
import { EVEN, type Balance } from './weights';

export interface Hand {
  readonly balance?: Balance;
  /** The fret where the bar is; left out where that does not matter. */
  readonly home?: number | undefined;
}

/** Frets that are priced, from 0. */
export const PRICED_FRETS = 2 ** 6;

export interface Prices {
  /** Holding a combination of the index. */
  readonly feet: (combination: number) => number;
  /** Picking a grip; string s (from 0) in bit s. */
  readonly picking: (grip: number) => number;
  /** The bar by slant number (0 is straight, n is `slants[n − 1]`), then by fret. */
  readonly bar: readonly Uint32Array[];
}

/** The prices of one neck; a combination and a grip are priced when they are first asked for. */
export function pricesOf(setup: Setup, index: NutIndex, hand: Hand = {}): Prices {
  const balance = hand.balance ?? EVEN;
  const neck = setup.necks[index.on.neck - 1];
  if (neck === undefined) throw new Error(`neck ${index.on.neck} is not in the setup`);
  const feet = new Int32Array(index.on.engaged.length).fill(-1);
  const picking = new Int32Array(1 << index.on.strings).fill(-1);
  return {
    feet(combination) {
      const known = feet[combination] as number;
      if (known >= 0) return known;
      const terms = feetTerms(setup, index.on.engaged[combination] ?? []);
      return (feet[combination] = thousandths(terms, 'feet', balance));
    },
    picking(grip) {
      const known = picking[grip] as number;
      if (known >= 0) return known;
      const strings = Array.from({ length: index.on.strings }, (_, s) => s + 1).filter(
        (string) => grip & (1 << (string - 1)),
      );
      return (picking[grip] = thousandths(pickingTerms(neck, strings), 'picking', balance));
    },
    bar: [undefined, ...index.slants].map((slanted) =>
      Uint32Array.from({ length: PRICED_FRETS }, (_, fret) =>
        thousandths(barTerms(setup, fret, hand.home, slanted?.slant ?? 0), 'bar', balance),
      ),
    ),
  };
}
