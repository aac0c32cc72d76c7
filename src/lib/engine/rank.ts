/**
 * Voicings in the order of their effort: ranking a thousand of them is a thousand sums of four
 * prices and one sort.
 */
import type { Chord } from '$lib/theory/chord';
import type { Found, WantedSet } from '$lib/search/find';
import { gripOf, gripSize } from '$lib/search/grip';
import type { NutIndex } from '$lib/search/nutIndex';
import type { Voicing } from '$lib/search/voicing';
import { isInSecondHome, type SecondHome } from '$lib/setup/secondHome';
import type { Choice } from '$lib/setup/reach';
import type { Neck, Setup } from '$lib/setup/setup';
import { splitStrings } from '$lib/setup/sounding';
import type { Chroma } from '$lib/theory/pitch';
import { barTerms, findingTerms } from '$lib/effort/bar';
import { clarityTerms, missingTerms } from '$lib/effort/clarity';
import { effortOf, thousandths, type Effort } from '$lib/effort/effort';
import { pickingTerms } from '$lib/effort/picking';
import { PRICED_FRETS, type Hand } from '$lib/effort/prices';
import { EVEN } from '$lib/effort/weights';
import type { Instrument } from './instrument';

// A sort key is one exact number: effort, then fret, then the voicing's number, which ascends by
// strings and then by the cheapness of its way. 53 bits: 20 for thousandths, 6 for frets, 27 below.
const VOICINGS = 2 ** 27;
const FRETS = PRICED_FRETS;
const MOST_THOUSANDTHS = 2 ** 20 - 1;

/** What the voicings are wanted for: clarity is measured by it. */
export interface RankedFor {
  readonly chord: Chord;
  /** As they were looked for. */
  readonly sets: readonly WantedSet[];
}

export interface Ranked {
  readonly voicing: Uint32Array;
  readonly fret: Uint8Array;
  /** By row: the combination of the way that is easiest for the chord. */
  readonly way: Uint32Array;
  /** In thousandths. */
  readonly effort: Uint32Array;
  readonly count: number;
}

/** Every found voicing, least effort first; equal ones by fret, then strings, then ways. */
export function rank(
  instrument: Instrument,
  index: NutIndex,
  found: Found,
  { chord, sets }: RankedFor,
  hand: Hand = {},
): Ranked {
  if (index.count > VOICINGS) throw new Error(`${index.count} voicings, ${VOICINGS} can be ranked`);

  const { feet, picking, pickingInSecondHome, bar } = instrument.prices(index, hand);
  const clarities = instrument.clarities(index);
  const weight = hand.balance?.clarity ?? EVEN.clarity;
  const lacking = sets.map(({ missing }) =>
    thousandths(missingTerms(chord, missing), 'clarity', EVEN),
  );
  const neck = neckOf(instrument, index.on.neck);
  const second = secondHomeFor(instrument, index.on.neck, chord);
  const finding = findingPrices(neck, chord, hand);
  const findingInSecondHome = findingPrices(neck, chord, hand, second?.roots);
  /** By voicing: the way that is easiest where the first of them splits a string; as it is where none does. */
  const easiest = (voicing: number): number => {
    const first = index.combination[voicing] as number;
    if (clarities.splitIn(voicing, first) === 0 || weight === 0) return first;
    const price = (way: number): number =>
      feet(way) + Math.round(clarities.splitIn(voicing, way) * weight);
    return index.waysOf(voicing).reduce((best, way) => (price(way) < price(best) ? way : best));
  };
  const inSecondHome = index.on.engaged.map(
    (engaged) => second !== undefined && isInSecondHome(second, engaged),
  );
  const keys = new Float64Array(found.count);
  for (let i = 0; i < found.count; i++) {
    const voicing = found.voicing[i] as number;
    const fret = found.fret[i] as number;
    const combination = easiest(voicing);
    const grip = index.grip[voicing] as number;
    const isSecond = inSecondHome[combination] as boolean;
    const effort =
      ((bar[index.slant[voicing] as number] as Uint32Array)[fret] as number) +
      ((isSecond ? findingInSecondHome : finding)[fret] as number) +
      feet(combination) +
      (isSecond ? pickingInSecondHome : picking)(grip) +
      Math.round(
        ((lacking[found.set[i] as number] as number) +
          clarities.at(voicing, fret) +
          clarities.splitIn(voicing, combination)) *
          weight,
      );
    keys[i] = (Math.min(effort, MOST_THOUSANDTHS) * FRETS + fret) * VOICINGS + voicing;
  }
  keys.sort();

  const voicing = new Uint32Array(found.count);
  const fret = new Uint8Array(found.count);
  const effort = new Uint32Array(found.count);
  const way = new Uint32Array(found.count);
  keys.forEach((key, row) => {
    const above = Math.floor(key / VOICINGS);
    voicing[row] = key - above * VOICINGS;
    fret[row] = above % FRETS;
    effort[row] = Math.floor(above / FRETS);
    way[row] = easiest(voicing[row]);
  });
  return { voicing, fret, way, effort, count: found.count };
}

/** By fret: thousandths for finding a chord there. */
const findingPrices = (
  neck: Neck,
  chord: Chord,
  { balance = EVEN }: Hand,
  second?: readonly Chroma[],
): Uint32Array =>
  Uint32Array.from({ length: PRICED_FRETS }, (_, fret) =>
    thousandths(findingTerms(neck, chord, fret, second), 'bar', balance),
  );

/**
 * The second home of a neck, where a chord is looked for in it: one of four tones or more, for its open strings
 * are a sixth chord. Plain triads are played in the first home (common practice of the trade on universal necks:
 * the E9 side for triads, the B6 side for sixths, sevenths and beyond).
 */
const secondHomeFor = (
  instrument: Instrument,
  neck: number,
  chord: Chord | undefined,
): SecondHome | undefined =>
  chord !== undefined && chord.tones.length >= 4 ? instrument.secondHome(neck) : undefined;

function neckOf({ setup }: Instrument, number: number): Neck {
  const neck = setup.necks[number - 1];
  if (neck === undefined) throw new Error(`neck ${number} is not in the setup`);
  return neck;
}

/**
 * The effort of one voicing, by its first way, with its terms; without finding and clarity where no chord
 * is asked for.
 */
export function effortOfVoicing(
  instrument: Instrument,
  voicing: Voicing,
  hand: Hand = {},
  chord?: Chord,
): Effort {
  const { setup, feet } = instrument;
  const neck = neckOf(instrument, voicing.neck);
  const [way = []] = voicing.ways;
  const home = secondHomeFor(instrument, voicing.neck, chord);
  const second = home !== undefined && isInSecondHome(home, way) ? home : undefined;
  return effortOf(
    [
      ...feet.terms(way),
      ...pickingTerms(neck, voicing.strings, instrument.homeStrings(voicing.neck), second?.strings),
      ...barTerms(setup, voicing.fret, hand.home, voicing.slant),
      ...(chord === undefined
        ? []
        : [
            ...findingTerms(neck, chord, voicing.fret, second?.roots),
            ...clarityTerms(chord, voicing.missing, voicing.pitches, splitsIn(setup, voicing, way)),
          ]),
    ],
    hand.balance ?? EVEN,
  );
}

/** How many strings of a voicing stand between a raise and a lower in a way. */
const splitsIn = (setup: Setup, { neck, strings }: Voicing, way: Choice): number =>
  gripSize(splitStrings(setup, neck, way) & gripOf(strings));
