/** The whole trip from a plan to targets, with what becomes of every chord that they are for. */
import type { Chord } from '$lib/theory/chord';
import type { Setup } from '$lib/setup/setup';
import type { Repertoire } from '$lib/theory/repertoire';
import { usualAnchor } from './anchor';
import { purityOf, type ChordPurity } from './chords';
import type { Seventh } from './justRatios';
import { stopsOf, type Stop } from './stops';
import { fit, type Fit } from './fit';
import type { Method } from './methods';
import { splitsOf, type Split } from './splits';
import { savedOffsets, targetsOf, type Target, type WrittenTarget } from './targets';
import { chordsOf, usesOf, type Use, type UsedChord } from './uses';

export interface Plan {
  readonly method: Method;
  /** Chords to be tuned for; where left out, the everyday repertoire (for `just` its two triads). */
  readonly chords?: readonly Chord[];
  readonly repertoire?: Repertoire;
  /** The string that stays at equal temperament; where left out, the usual one. */
  readonly anchor?: number;
  /**
   * How much a fitted tuning is pulled toward equal temperament: at 1 all stops together weigh as
   * much as all chords together, at Infinity nothing else counts.
   */
  readonly strength?: number;
  readonly seventh?: Seventh;
  /** Targets that the player chose for stops that no chord decides. */
  readonly chosen?: readonly WrittenTarget[];
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
  /**
   * What `residualAfter` would be were every stop tuned for itself, so that octaves of like notes come
   * apart: the difference is what keeping them together costs. Nothing where no chords are asked.
   */
  readonly residualApart?: number;
}

/** A chord is heard as often as any other of a list that a player names. */
const evenly = (chords: readonly Chord[]): UsedChord[] =>
  chords.map((chord) => ({ chord, weight: 1 / chords.length }));

function usedChords({ chords, repertoire, method }: Plan): UsedChord[] {
  if (chords !== undefined && chords.length > 0) return evenly(chords);
  const everyday = chordsOf(repertoire);
  return method === 'just' ? everyday.slice(0, 2) : everyday;
}

/** What is asked of the stops of a neck. */
interface Asked {
  readonly setup: Setup;
  readonly stops: readonly Stop[];
  readonly uses: readonly Use[];
  readonly anchor: number;
  readonly plan: Plan;
}

function fitted({ setup, stops, uses, anchor, plan }: Asked, apart = false): Fit {
  const { method, strength, seventh, chosen } = plan;
  const none = { impure: [], given: [] };
  if (method === 'equal') return { offsets: new Float64Array(stops.length), ...none };
  if (method === 'saved') return { offsets: savedOffsets(setup, stops), ...none };
  return fit({
    setup,
    stops,
    uses,
    anchor,
    method,
    seventh,
    apart,
    ...(strength === undefined ? {} : { strength }),
    ...(chosen === undefined ? {} : { chosen }),
  });
}

/**
 * Where the splits ought to lie: as they would be tuned had each a stop of its own, in equal
 * temperament where the method asks no chords.
 */
function wantedSplits(asked: Asked, neck: number): Target[] {
  const setup: Setup = { ...asked.setup, splitStops: true };
  const stops = stopsOf(setup, neck);
  if (stops.every(({ raisedBy }) => raisedBy === undefined)) return [];
  const { offsets, given } =
    asked.plan.method === 'saved' && asked.setup.splitStops !== true
      ? { offsets: new Float64Array(stops.length), given: [] }
      : fitted({ ...asked, setup, stops });
  return targetsOf(setup, stops, offsets, given).filter(({ raisedBy }) => raisedBy !== undefined);
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
  const asked = { setup, stops, uses, anchor, plan };
  const { offsets, impure, given } = fitted(asked);
  const equal = new Float64Array(stops.length);
  const purity = (at: Float64Array) => (use: Use) => purityOf(setup, stops, at, use, plan.seventh);
  const tuned = uses.map((use, index): TunedUse => ({
    use,
    before: purity(equal)(use),
    after: purity(offsets)(use),
    impure: impure.includes(index),
  }));
  const tones = uses.reduce((sum, use) => sum + use.weight * use.strings.length, 0);
  const mean = (of: readonly ChordPurity[]): number =>
    tones === 0 ? 0 : Math.sqrt(of.reduce((sum, { weighted }) => sum + weighted, 0) / tones);
  const aims = plan.method === 'just' || plan.method === 'fitted';
  return {
    neck,
    anchor,
    stops,
    offsets,
    targets: targetsOf(setup, stops, offsets, given),
    splits: splitsOf(setup, neck, stops, offsets, wantedSplits(asked, neck)),
    uses: tuned,
    unplayable,
    residualBefore: mean(tuned.map(({ before }) => before)),
    residualAfter: mean(tuned.map(({ after }) => after)),
    ...(aims ? { residualApart: mean(uses.map(purity(fitted(asked, true).offsets))) } : {}),
  };
}
