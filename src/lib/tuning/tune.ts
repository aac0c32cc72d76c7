/** The whole trip from a plan to targets, with what becomes of every chord that they are for. */
import type { Chord } from '$lib/theory/chord';
import type { Setup } from '$lib/setup/setup';
import type { Repertoire } from '$lib/theory/repertoire';
import { usualAnchor } from './anchor';
import { purityOf, type ChordPurity } from './chords';
import type { Seventh } from './justRatios';
import { stopsOf, type Stop } from './stops';
import { savedOffsets, splitsOf, targetsOf, type Split, type Target } from './targets';
import { justify, sweeten, wishOf } from './temper';
import { chordsOf, usesOf, type Use, type UsedChord } from './uses';

/** Where targets come from. */
export const METHODS = ['equal', 'just', 'sweet', 'saved'] as const;
export type Method = (typeof METHODS)[number];

export interface Plan {
  readonly method: Method;
  /** Chords to be tuned for; where left out, the everyday repertoire (for `just` its two triads). */
  readonly chords?: readonly Chord[];
  readonly repertoire?: Repertoire;
  /** The string that stays at equal temperament; where left out, the usual one. */
  readonly anchor?: number;
  /**
   * How much a sweetened tuning is drawn towards equal temperament: at 1 all stops together weigh as
   * much as all chords together, at Infinity nothing else counts.
   */
  readonly strength?: number;
  readonly seventh?: Seventh;
}

export interface TunedUse {
  readonly use: Use;
  /** In equal temperament. */
  readonly before: ChordPurity;
  readonly after: ChordPurity;
  /** Under `just`: what was settled for chords before it contradicts it. */
  readonly impure: boolean;
}

export interface Tuning {
  readonly neck: number;
  readonly anchor: number;
  readonly stops: readonly Stop[];
  readonly offsets: Float64Array;
  readonly targets: readonly Target[];
  readonly splits: readonly Split[];
  readonly uses: readonly TunedUse[];
  /** Chords that this neck cannot play. */
  readonly unplayable: readonly string[];
  /** Weighted root mean square of all deviations, in cents. */
  readonly residualBefore: number;
  readonly residualAfter: number;
}

/** A chord is heard as often as any other of a list that a player names. */
const evenly = (chords: readonly Chord[]): UsedChord[] =>
  chords.map((chord) => ({ chord, weight: 1 / chords.length }));

function usedChords({ chords, repertoire, method }: Plan): UsedChord[] {
  if (chords !== undefined && chords.length > 0) return evenly(chords);
  const everyday = chordsOf(repertoire);
  return method === 'just' ? everyday.slice(0, 2) : everyday;
}

function offsetsBy(
  setup: Setup,
  stops: readonly Stop[],
  uses: readonly Use[],
  anchor: number,
  { method, strength = 0, seventh }: Plan,
): { readonly offsets: Float64Array; readonly impure: readonly number[] } {
  const none = { impure: [] };
  if (method === 'equal') return { offsets: new Float64Array(stops.length), ...none };
  if (method === 'saved') return { offsets: savedOffsets(setup, stops), ...none };
  const wishes = uses.map((use) => wishOf(setup, stops, use, seventh));
  // strings are the first stops, in their order
  if (method === 'just') return justify(stops.length, wishes, anchor - 1);
  const weight = wishes.reduce((sum, wish) => sum + wish.weight, 0);
  const drawn = strength === Infinity ? Infinity : (strength * weight) / stops.length;
  return {
    offsets: sweeten(stops.length, wishes, { anchor: anchor - 1, strength: drawn }),
    ...none,
  };
}

/** Tunes one neck by a plan. */
export function tune(setup: Setup, neck: number, plan: Plan): Tuning {
  const own = setup.necks[neck - 1];
  if (own === undefined) throw new Error(`neck ${neck} of a setup with ${setup.necks.length}`);
  const stops = stopsOf(setup, neck);
  const anchor = plan.anchor ?? usualAnchor(own);
  const unplayable: string[] = [];
  const uses = usedChords(plan).flatMap((used) => {
    const found = usesOf(setup, neck, used);
    if (found.length === 0) unplayable.push(used.chord.symbol);
    return found;
  });
  const { offsets, impure } = offsetsBy(setup, stops, uses, anchor, plan);
  const equal = new Float64Array(stops.length);
  const tuned = uses.map((use, index): TunedUse => ({
    use,
    before: purityOf(setup, stops, equal, use, plan.seventh),
    after: purityOf(setup, stops, offsets, use, plan.seventh),
    impure: impure.includes(index),
  }));
  const tones = uses.reduce((sum, use) => sum + use.weight * use.strings.length, 0);
  const mean = (of: 'before' | 'after'): number =>
    tones === 0 ? 0 : Math.sqrt(tuned.reduce((sum, each) => sum + each[of].weighted, 0) / tones);
  return {
    neck,
    anchor,
    stops,
    offsets,
    targets: targetsOf(setup, stops, offsets),
    splits: splitsOf(setup, neck, stops, offsets),
    uses: tuned,
    unplayable,
    residualBefore: mean('before'),
    residualAfter: mean('after'),
  };
}
