/**
 * Pull sets for two or three stations at once, exactly. The work is numbered units, which anyone can do in any
 * order: what a unit gives depends on the setup, the question and its number alone.
 *
 * First come single stations, then two, then three where as many are asked for, the others staying as they
 * are: the _frontier_ tells what the best gives with so many strings moved, and with one string only one
 * station is moved. A unit of one station is all its pull sets; of two, one pull set of the first with all of
 * the second (`pairSearch.ts`, where the bounds are proved), the ones with the highest bound first; of three,
 * one pull set of the first with all pairs of the others, a search of pairs in the setup with that control.
 */
import {
  candidatesOn,
  hasRoom,
  pullsOf,
  type CandidateLimits,
  type PlainPull,
  type StringRoom,
} from '$lib/setup/candidates';
import { withControl } from '$lib/setup/proposal';
import type { Setup } from '$lib/setup/setup';
import { setupFileOf } from '$lib/setup/writeSetup';
import type { ShapeOptions } from './shapeOptions';
import { gainOf } from './ease';
import { fingerprint } from './fingerprint';
import {
  BestTogether,
  type Asked,
  type FoundTogether,
  type Picks,
  type ToldTogether,
} from './foundTogether';
import type { Place } from './pairGround';
import { noCounts, PairSearch, type Counting, type Useless } from './pairSearch';
import { pullGains } from './pullGains';
import { Units } from './togetherUnits';
import { toldOf } from './toldTogether';
import type { CandidateRange } from './ranges';
import { clarityWith, scoreOf } from './clarity';
import { useGround } from './uses';
import { yardstick, type Wish } from './yardstick';

export interface TogetherQuestion extends CandidateLimits, ShapeOptions {
  /** Two or three. */
  readonly places: readonly Place[];
  readonly wishes: readonly Wish[];
  /** Chords that can be played now and must not be lost. */
  readonly keep: readonly Omit<Wish, 'weight'>[];
  /** Strings whose fingers may not take what all new controls want of them together: what is left without the present ones. */
  readonly room?: readonly StringRoom[];
  /** How many of the best are told; all where 0. */
  readonly limit: number;
}

/** Results by another measure cannot be joined with these. */
const MEASURE = 'gain by clarity, together, 3';
/** A question with everything made ready that its units share. */
export interface Together {
  /** Tells questions apart. */
  readonly question: string;
  readonly units: number;
  readonly candidates: number;
  /** Pieces of all units that take about equally long, but for the first, which is small. */
  pieces(ranges: readonly CandidateRange[]): CandidateRange[];
  /** What some units give, of what can still count beside what is known. */
  within(range: CandidateRange, known: Asked): FoundTogether;
  /** By unit: no choice of it scores above this. Takes as long as the first unit does. */
  bounds(): Float64Array;
  /** What some choices are, and what those score that do the same by other stations. */
  told(picks: Picks): ToldTogether;
}

/** Makes a question ready. Throws where a chord type is none, or fewer than two stations are asked for. */
export function together(setup: Setup, question: TogetherQuestion): Together {
  const { places, wishes, keep, limit, sizes, slants, must = [], room = [] } = question;
  if (places.length < 2 || places.length > 3)
    throw new Error(`${places.length} stations, not 2 or 3`);
  const by = yardstick([...wishes, ...keep.map((chord) => ({ ...chord, weight: 0 }))]);
  const options = { sizes, slants };
  // what must be moved is moved by any of the controls
  const candidates = candidatesOn(setup, { ...question, must: [] });
  const { count } = candidates;
  const kept = keep.flatMap(({ type, root }) => {
    const first = by.types.indexOf(type) * 12;
    return root === undefined
      ? Array.from({ length: 12 }, (_, chroma) => first + chroma)
      : [first + root];
  });
  const numbered = new Units(places.length, count);
  const { parts, units } = numbered;
  const name = fingerprint(JSON.stringify([MEASURE, setupFileOf(setup), question]));
  const pulls = (pick: number): PlainPull[] => pullsOf(candidates, pick);
  const moves = (picks: Picks): boolean =>
    must.length === 0 ||
    must.every(({ neck, string }) =>
      picks.some(
        (pick) =>
          pick >= 0 && pulls(pick).some((pull) => pull.neck === neck && pull.string === string),
      ),
    );
  /** By station: what its control pulls now, and goes on to pull where the station stays as it is. */
  const there = places.map(({ id }) => setup.controls.find((each) => each.id === id)?.pulls ?? []);
  /** Why a choice does not count at all; nothing where it does. */
  const uselessBy = (picks: Picks): Useless | undefined =>
    !moves(picks)
      ? 'must'
      : room.length > 0 &&
          !hasRoom(
            room,
            picks.flatMap((pick) => (pick < 0 ? [] : pulls(pick))),
            picks.flatMap((pick, station) => (pick < 0 ? (there[station] ?? []) : [])),
          )
        ? 'room'
        : undefined;
  const nameOf = (picks: Picks): string => [...picks].sort((a, b) => a - b).join();

  // the searches of pairs that are made ready; of three stations one at a time
  const pairs = new Map<string, PairSearch>();
  const pairOf = (at: readonly number[], fixed?: readonly [number, number]): PairSearch => {
    const key = at.join();
    const known = fixed === undefined ? pairs.get(key) : undefined;
    if (known !== undefined) return known;
    const search = new PairSearch({
      setup,
      fixed: fixed === undefined ? [] : [{ ...place(fixed[0]), pulls: pulls(fixed[1]) }],
      places: [place(at[0] ?? 0), place(at[1] ?? 0)],
      by,
      options,
      candidates,
      keep: kept,
    });
    if (fixed === undefined) pairs.set(key, search);
    return search;
  };
  const place = (index: number): Place => places[index] as Place;
  const orders = new Map<string, { order: Uint32Array; bounds: Float64Array }>();
  /** The first pull sets of two stations, the ones with the highest bound first, and their bounds. */
  const orderOf = (at: readonly number[]): { order: Uint32Array; bounds: Float64Array } => {
    const key = at.join();
    const known = orders.get(key);
    if (known !== undefined) return known;
    const search = pairOf(at);
    const all = Float64Array.from({ length: count }, (_, first) => search.mostWith(first));
    const order = Uint32Array.from(all.keys()).sort(
      (a, b) => (all[b] as number) - (all[a] as number) || a - b,
    );
    const made = { order, bounds: Float64Array.from(order, (first) => all[first] as number) };
    orders.set(key, made);
    return made;
  };

  function single(station: number, best: BestTogether, counts: Counting): void {
    const own = place(station);
    const gains = pullGains({ setup, control: own, by, options, candidates, keep: kept });
    const filled = withControl(setup, { ...own, pulls: [] });
    const ground = useGround(filled, own.id, by);
    for (let pick = 0; pick < count; pick++) {
      const picks = places.map((_, index) => (index === station ? pick : -1));
      const own = pulls(pick);
      const useless = uselessBy(picks);
      if (useless !== undefined) {
        counts[useless]++;
        continue;
      }
      counts.weighed++;
      const sum = gains.sumAt(pick);
      if (sum === undefined || sum <= 0) continue;
      if (gainOf(sum) < (best.asked.byStrings[own.length] ?? 0)) {
        counts.gain++;
        continue;
      }
      const score = scoreOf(gainOf(sum), clarityWith(ground, own));
      best.add({ picks, strings: own.length, sum, score, name: nameOf(picks) }, false);
    }
  }

  function pair(
    search: PairSearch,
    at: readonly number[],
    first: number,
    fixed: readonly [number, number] | undefined,
    best: BestTogether,
    counts: Counting,
  ): void {
    const whole = at.length + (fixed === undefined ? 0 : 1) === places.length;
    const before = fixed === undefined ? 0 : pulls(fixed[1]).length;
    let asked = best.asked;
    const picksOf = (second: number): Picks =>
      places.map((_, index) =>
        index === at[0] ? first : index === at[1] ? second : index === fixed?.[0] ? fixed[1] : -1,
      );
    search.weigh(
      first,
      {
        uselessBy:
          must.length === 0 && room.length === 0
            ? undefined
            : (second) => uselessBy(picksOf(second)),
        least: (strings) =>
          whole
            ? Math.min(asked.last, asked.byStrings[strings] ?? 0)
            : (asked.byStrings[strings] ?? 0),
        tell: ({ second, sum, score }) => {
          const picks = picksOf(second);
          const strings = before + pulls(first).length + pulls(second).length;
          best.add({ picks, strings, sum, score, name: nameOf(picks) }, whole);
          asked = best.asked;
        },
      },
      counts,
    );
  }

  function work(unit: number, best: BestTogether, counts: Counting): number {
    const part = numbered.partAt(unit);
    const [first = 0, ...others] = part.at;
    const within = unit - part.first;
    if (part.at.length === 1) {
      single(first, best, counts);
      return count;
    }
    if (part.at.length === 2) {
      const { order, bounds } = orderOf(part.at);
      const { last, byStrings } = best.asked;
      // every number of strings has its own best, so the least of those that it can move is what a whole unit must miss
      const own = pulls(order[within] as number).length;
      const least = Math.min(places.length === 2 ? last : Infinity, ...leastOf(byStrings, own));
      if ((bounds[within] as number) < least) counts.whole += count;
      else pair(pairOf(part.at), part.at, order[within] as number, undefined, best, counts);
      return count;
    }
    const fixed = [first, within] as const;
    const search = pairOf(others, fixed);
    for (let second = 0; second < count; second++)
      pair(search, others, second, fixed, best, counts);
    return count * count;
  }
  /** By how many strings a pull set of so many can move with another one: the best score so far. */
  const leastOf = (byStrings: readonly number[], own: number): number[] =>
    Array.from({ length: question.stringsUpTo }, (_, at) => byStrings[own + at + 1] ?? 0);

  return {
    question: name,
    units,
    candidates: numbered.choices,
    pieces: (ranges) => numbered.pieces(ranges),
    within([first, last], known) {
      const best = new BestTogether(limit, known);
      const counts = noCounts();
      let done = 0;
      for (let unit = first; unit <= last; unit++) done += work(unit, best, counts);
      return {
        question: name,
        limit,
        candidates: numbered.choices,
        done,
        units,
        ranges: [[first, last]],
        counts,
        best: best.best,
        frontier: best.frontier,
      };
    },
    bounds() {
      const bounds = new Float64Array(units).fill(Infinity);
      let most = 0;
      for (const part of parts)
        if (part.at.length === 2) {
          const of = orderOf(part.at);
          bounds.set(of.bounds, part.first);
          most = Math.max(most, pairOf(part.at).mostOfAll);
        }
      // of one station no more than of two of them; of three, all spots at their easiest
      for (const part of parts) {
        if (part.at.length === 2) continue;
        bounds.fill(most, part.first, part.first + part.units);
      }
      return bounds;
    },
    told: (picks) => toldOf({ setup, places, by, options, pulls }, picks),
  };
}
