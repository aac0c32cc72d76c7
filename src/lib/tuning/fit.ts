/**
 * Offsets of a neck's stops for chords: like notes together, splits by the stretch that they are, and
 * what no chord decides told apart from what one does.
 */
import type { Setup } from '$lib/setup/setup';
import type { Seventh } from './justRatios';
import { kinOf, likeOf } from './kin';
import { sameStop, type OffsetSum, type Stop } from './stops';
import type { WrittenTarget } from './targets';
import { decidedBy, justify, sweeten, wishOf, type Wish } from './temper';
import type { Use } from './uses';

/** What a stop that no chord decides is tuned to instead. */
export type Given =
  /** A stop that sounds the same note. */
  | { readonly as: 'like'; readonly stop: Stop }
  | { readonly as: 'equal' }
  /** It lies right to others that no chord decides, and all of them as near to equal temperament as may be. */
  | { readonly as: 'near' }
  /** The player chose it. */
  | { readonly as: 'chosen' };

/** Where the stops ought to lie, by place in `stopsOf`. */
export interface Fit {
  /** Cents from equal temperament. */
  readonly offsets: Float64Array;
  /** Places of uses that contradict earlier ones, where chords are taken in order. */
  readonly impure: readonly number[];
  /** What a stop was given because no chord decides it; nothing where one does. */
  readonly given: readonly (Given | undefined)[];
}

/** What is asked of a fit. */
export interface Aim {
  readonly setup: Setup;
  readonly stops: readonly Stop[];
  readonly uses: readonly Use[];
  /** The string that stays at equal temperament, from 1. */
  readonly anchor: number;
  readonly method: 'just' | 'fitted';
  /** As in a plan; 0 where left out. */
  readonly strength?: number;
  readonly seventh?: Seventh | undefined;
  /** Targets that the player chose for stops that no chord decides. */
  readonly chosen?: readonly WrittenTarget[];
  /** Every stop for itself: octaves of like notes may come apart. */
  readonly apart?: boolean;
}

/** Unknowns: stops that are tuned as one share a column. */
interface Columns {
  /** By stop: the place of the stop that stands for it. */
  readonly of: readonly number[];
  /** By stop that stands for others: a value that is not to be found, but given. */
  readonly fixed: ReadonlyMap<number, number>;
}

/** Rounds of touching splits by straight lines: each round leaves a hundredth of what was off before. */
const ROUNDS = 30;
/** Cents. */
const STANDS_STILL = 1e-8;

/** The same sum with each stop's term at the one that stands for it, and given ones counted in. */
function folded({ terms, constant }: OffsetSum, { of, fixed }: Columns): OffsetSum {
  const factors = new Map<number, number>();
  let all = constant;
  for (const [stop, factor] of terms) {
    const place = of[stop] ?? stop;
    const value = fixed.get(place);
    if (value === undefined) factors.set(place, (factors.get(place) ?? 0) + factor);
    else all += factor * value;
  }
  return { terms: [...factors], constant: all };
}

/**
 * Offsets by one method, splits being touched by straight lines where the last round left the stops,
 * until they stand still (Gauss and Newton): nearly always after five rounds; the last of thirty counts.
 */
function solved(
  { setup, stops, uses, anchor, method, strength = 0, seventh }: Aim,
  columns: Columns,
  from: Float64Array = new Float64Array(stops.length),
): { readonly offsets: Float64Array; readonly impure: readonly number[]; wishes: Wish[] } {
  const { of, fixed } = columns;
  const weight = uses.reduce((sum, use) => sum + use.weight, 0);
  const unknowns = new Set(of).size;
  const drawn = strength === Infinity ? Infinity : (strength * weight) / unknowns;
  // strings are the first stops, in their order
  const held = of[anchor - 1] ?? anchor - 1;
  let offsets = from;
  let impure: readonly number[] = [];
  let wishes: Wish[] = [];
  for (let round = 0; round < ROUNDS; round++) {
    const asked = uses.map((use) => wishOf(setup, stops, use, seventh, offsets));
    const straight = asked.every(({ sums }) => sums.every(({ terms }) => terms.length === 1));
    wishes = asked.map((wish) => ({
      ...wish,
      sums: wish.sums.map((sum) => folded(sum, columns)),
    }));
    let found: Float64Array;
    if (method === 'just') ({ offsets: found, impure } = justify(stops.length, wishes, held));
    else found = sweeten(stops.length, wishes, { anchor: held, strength: drawn });
    const next = offsets.map((_, stop) => {
      const place = of[stop] ?? stop;
      return fixed.get(place) ?? found[place] ?? 0;
    });
    const moved = Math.max(0, ...next.map((each, stop) => Math.abs(each - (offsets[stop] ?? 0))));
    offsets = next;
    if (straight || moved < STANDS_STILL) break;
  }
  return { offsets, impure, wishes };
}

/**
 * Fits the stops of a neck to chords. Like notes are one unknown (`kinOf`). A stop that no chord decides
 * takes the place of a decided one that sounds the same note; where there is none it stays at equal
 * temperament, or as near to it as chords of such stops alone let it.
 */
export function fit(aim: Aim): Fit {
  const { stops, anchor, chosen = [], strength = 0 } = aim;
  const kin = aim.apart ? stops.map((_, stop) => stop) : kinOf(stops);
  const free: Columns = { of: kin, fixed: new Map() };
  const first = solved(aim, free);
  const held = kin[anchor - 1] ?? anchor - 1;
  const decided = decidedBy(stops.length, first.wishes, held);
  const isDecided = (stop: number): boolean => decided[kin[stop] ?? stop] === true;
  const asked = new Set(
    first.wishes.flatMap(({ sums }) => sums.flatMap(({ terms }) => terms.map(([stop]) => stop))),
  );

  const given = new Map<number, Given>();
  const fixed = new Map<number, number>();
  const of = [...kin];
  stops.forEach((_, stop) => {
    const place = kin[stop] ?? stop;
    // kin come after the one that stands for them
    if (place !== stop || isDecided(stop)) return;
    const own = stops.findIndex(
      (each, other) => kin[other] === place && chosen.some((target) => sameStop(target, each)),
    );
    const target = chosen.find((each) => stops[own] && sameStop(each, stops[own]));
    const like = asked.has(place) ? undefined : likeOf(stops, place, isDecided);
    const likeStop = like === undefined ? undefined : stops[like];
    if (target?.cents !== undefined) {
      fixed.set(place, target.cents);
      given.set(place, { as: 'chosen' });
    } else if (like !== undefined && likeStop !== undefined && strength !== Infinity) {
      of[place] = kin[like] ?? like;
      given.set(place, { as: 'like', stop: likeStop });
    } else given.set(place, { as: asked.has(place) ? 'near' : 'equal' });
  });
  // through the one that stands for it to the one that that was put with
  const columns: Columns = { of: kin.map((place) => of[place] ?? place), fixed };
  const changed = fixed.size > 0 || of.some((place, stop) => place !== kin[stop]);
  const { offsets, impure } = changed ? solved(aim, columns, first.offsets) : first;
  return {
    offsets,
    impure,
    given: stops.map((_, stop) => given.get(kin[stop] ?? stop)),
  };
}
