/**
 * Voicings in the order of their effort. Feet, picking hand and bar add up independently, so each is
 * priced once: by combination, by grip, by fret; ranking a thousand voicings is a thousand sums of
 * three numbers and one sort.
 */
import type { Setup } from '$lib/setup/setup';
import type { Found } from '$lib/search/find';
import type { NutIndex } from '$lib/search/nutIndex';
import type { Voicing } from '$lib/search/voicing';
import { barTerms } from './bar';
import { effortOf, thousandths, type Effort } from './effort';
import { feetTerms } from './feet';
import { pickingTerms } from './picking';
import { EVEN, type Balance } from './weights';

export interface Hand {
  readonly balance?: Balance;
  /** The fret where the bar is; left out where that does not matter. */
  readonly home?: number | undefined;
}

// A sort key is one exact number: effort, then fret, then the voicing's number, which ascends by
// strings and then by the cheapness of its way. 53 bits: 20 for thousandths, 6 for frets, 27 below.
const VOICINGS = 2 ** 27;
const FRETS = 2 ** 6;
const MOST_THOUSANDTHS = 2 ** 20 - 1;

export interface Ranked {
  readonly voicing: Uint32Array;
  readonly fret: Uint8Array;
  /** In thousandths. */
  readonly effort: Uint32Array;
  readonly count: number;
}

/** Every found voicing, least effort first; equal ones by fret, then strings, then ways. */
export function rank(setup: Setup, index: NutIndex, found: Found, hand: Hand = {}): Ranked {
  const balance = hand.balance ?? EVEN;
  const neck = setup.necks[index.on.neck - 1];
  if (neck === undefined) throw new Error(`neck ${index.on.neck} is not in the setup`);
  if (index.count > VOICINGS) throw new Error(`${index.count} voicings, ${VOICINGS} can be ranked`);

  const feet = new Int32Array(index.on.engaged.length).fill(-1);
  const picking = new Int32Array(1 << index.on.strings).fill(-1);
  const feetOf = (combination: number): number => {
    const engaged = index.on.engaged[combination] ?? [];
    return (feet[combination] = thousandths(feetTerms(setup, engaged), 'feet', balance));
  };
  const pickingOf = (grip: number): number => {
    const strings = Array.from({ length: index.on.strings }, (_, s) => s + 1).filter(
      (string) => grip & (1 << (string - 1)),
    );
    return (picking[grip] = thousandths(pickingTerms(neck, strings), 'picking', balance));
  };
  // by slant number + 1 (0 is straight) and fret
  const bar = [undefined, ...index.slants].map((slanted) =>
    Uint32Array.from({ length: FRETS }, (_, fret) =>
      thousandths(barTerms(setup, fret, hand.home, slanted?.slant ?? 0), 'bar', balance),
    ),
  );

  const keys = new Float64Array(found.count);
  for (let i = 0; i < found.count; i++) {
    const voicing = found.voicing[i] as number;
    const fret = found.fret[i] as number;
    const combination = index.combination[voicing] as number;
    const grip = index.grip[voicing] as number;
    let effort = (bar[index.slant[voicing] as number] as Uint32Array)[fret] as number;
    const forFeet = feet[combination] as number;
    effort += forFeet < 0 ? feetOf(combination) : forFeet;
    const forPicking = picking[grip] as number;
    effort += forPicking < 0 ? pickingOf(grip) : forPicking;
    keys[i] = (Math.min(effort, MOST_THOUSANDTHS) * FRETS + fret) * VOICINGS + voicing;
  }
  keys.sort();

  const voicing = new Uint32Array(found.count);
  const fret = new Uint8Array(found.count);
  const effort = new Uint32Array(found.count);
  keys.forEach((key, place) => {
    const above = Math.floor(key / VOICINGS);
    voicing[place] = key - above * VOICINGS;
    fret[place] = above % FRETS;
    effort[place] = Math.floor(above / FRETS);
  });
  return { voicing, fret, effort, count: found.count };
}

/** The effort of one voicing, by its first way, with its terms. */
export function effortOfVoicing(setup: Setup, voicing: Voicing, hand: Hand = {}): Effort {
  const neck = setup.necks[voicing.neck - 1];
  if (neck === undefined) throw new Error(`neck ${voicing.neck} is not in the setup`);
  return effortOf(
    [
      ...feetTerms(setup, voicing.ways[0] ?? []),
      ...pickingTerms(neck, voicing.strings),
      ...barTerms(setup, voicing.fret, hand.home, voicing.slant),
    ],
    hand.balance ?? EVEN,
  );
}
