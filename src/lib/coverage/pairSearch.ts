/**
 * Pull sets for two stations together, exactly, without weighing every pair.
 *
 * _What a pair gives._ A combination of the legs engages neither of the two controls A and B, A alone of
 * them, B alone, or both, and beside that whatever else can be held. Let R, E(a), E(b) and E(a, b) be the
 * eases by spot (`ease.ts`) that these four kinds give where A has the pulls a and B the pulls b. The gain of
 * a pair is the weighed sum, over all spots, of max(R, E(a), E(b), E(a, b)) less what is there before. It can
 * be more than the gains of a and of b alone together, for E(a, b) is in neither of them.
 *
 * _The bound._ With w for weights, S for what a adds to R and N = max(R, E(a)), the gain of the pair is
 *
 *     S + sum w · [max(N, E(b), E(a, b)) − N]  ≤  S + sum w · [E(b) − N]⁺ + sum w · [E(a, b) − N]⁺,
 *
 * for max(x, y) − n ≤ [x − n]⁺ + [y − n]⁺. The last sum is bounded by parts. Take any shape under both
 * controls, on a grip g; let V be those pulls of b whose strings are in g. What g sounds depends on no other
 * pull of b, so the shape is among those on grips that hold all strings of V where B has the pulls V
 * alone, and
 *
 *     sum w · [E(a, b) − N]⁺  ≤  sum over all parts V of b of y(V),
 *
 * where y(V) is the weighed sum of what those shapes have above N: every spot is filled by some one shape,
 * and that is counted in the y of its own part. The parts of all b are the pull sets themselves, so for one a
 * each y is found once, on a few grips, and serves thousands of pairs. Where every combination that engages
 * both is reachable too, and no dearer, with B let go and with A let go (it is so, but for bridges between
 * pedals and for exceptions of a setup), shapes on grips without a string of a are in E(b) already and those
 * without a string of b in E(a): the empty part is 0 then, and only grips that meet both count. Else all count.
 * Since [E(b) − N]⁺ ≤ [E(b) − R]⁺, the gain of b alone serves first, and the sum over its spots next. A b that
 * moves as many strings as are allowed is itself no part of another: its own y is bounded by its grips
 * first (`gripBounds.ts`), and found only where that is not enough.
 *
 * A score is a gain by a clarity, and the clarity of several controls is the mean over their pulls of what
 * each counts (`clarity.ts`). What engages another of the new controls beside one counts 0.6 at most, so a pull
 * counts no more than the larger of what it counts without the others, and 0.6 of its parted octaves'
 * share. Both factors bounded, so is the score; a pair whose bound is below what is asked for cannot come
 * among the best, and is skipped: counted, never weighed.
 *
 * _A first pull set by itself._ The last sum is no more than that of w · [c − N]⁺ over all spots, where c is the ease
 * of the least effort that engaging both takes, because E(a, b) ≤ c on every spot.
 * With the largest gain of a b and the largest count of its pulls that bounds all pairs of one a at once.
 */
import { type Candidates, type PlainPull } from '$lib/setup/candidates';
import { withControl, withoutControl } from '$lib/setup/proposal';
import type { Control, Setup } from '$lib/setup/setup';
import { compile } from '$lib/engine/instrument';
import { shapesOf, type NeckShapes } from '$lib/engine/shapes';
import { Feet, middlePedal } from '$lib/effort/feet';
import { feetPrice } from '$lib/effort/prices';
import { NeckAdditions } from './additions';
import { CandidateEases } from './candidateEases';
import type { ShapeOptions } from './shapeOptions';
import { clarityOfHeard } from './clarity';
import { ClarityTogether, ROUNDING, scoreAtMost } from './clarityTogether';
import { easeAt, easeOf, easesOf, gainOf, sumsByType, type Eases } from './ease';
import type { Counts } from './foundTogether';
import { GripBounds } from './gripBounds';
import { NeckJoint } from './neckJoint';
import { pairKinds } from './pairKinds';
import { PLACES, SecondSets } from './secondSets';
import type { Yardstick } from './yardstick';

/** A control to be filled, by the name it gets and where it is. */
export type Place = Pick<Control, 'id' | 'station'>;

export interface PairQuestion {
  readonly setup: Setup;
  /** New controls that have their pulls. */
  readonly fixed: readonly (Place & { readonly pulls: readonly PlainPull[] })[];
  readonly places: readonly [Place, Place];
  readonly by: Yardstick;
  readonly options: ShapeOptions;
  readonly candidates: Candidates;
  /** Chord numbers that must not be lost. */
  readonly keep: readonly number[];
}

/** A pair that was weighed. */
export interface WeighedPair {
  readonly first: number;
  readonly second: number;
  readonly sum: number;
  readonly score: number;
}

/** It does not move what must be moved, or wants more rods than there is room for. */
export type Useless = 'must' | 'room';

/** What is wanted of a pair, and who is told. */
export interface Wanted {
  /** The score below which a pair of so many pulls in all is of no use. */
  least(pulls: number): number;
  tell(pair: WeighedPair): void;
  /** Why a second pull set does not count beside the first at all; all do where this is left out. */
  readonly uselessBy?: ((second: number) => Useless | undefined) | undefined;
}

/** Counts that grow. */
export type Counting = { -readonly [By in keyof Counts]: number };

/** Nothing counted yet. */
export const noCounts = (): Counting => ({
  must: 0,
  room: 0,
  whole: 0,
  parts: 0,
  spots: 0,
  weighed: 0,
  gain: 0,
});

/** One neck: what it gives before, without the two, and with both of them. */
interface PairNeck {
  readonly before: Eases;
  readonly rest: Eases;
  readonly joint: NeckJoint;
  /** Where grips have no more strings than can be bounded one by one. */
  readonly grips: GripBounds | undefined;
}

/** A search over pull sets of two stations, unit by unit: each is a set of the first with all of the second. */
export class PairSearch {
  readonly #question: PairQuestion;
  readonly #necks: readonly PairNeck[];
  /** New controls that have their pulls come first in it. */
  readonly clarities: ClarityTogether;
  readonly #base: number;
  readonly #atRisk: readonly number[];
  readonly #meeting: boolean;
  readonly #first: CandidateEases;
  readonly #sets: SecondSets;
  readonly #most: number;
  readonly #worth: Float64Array;
  readonly #fixedHeard: { pulls: number; most: number };
  readonly #fixedPulls: number;
  readonly #mostGain: number;
  readonly #cheapest: number;
  /** By how many pulls count: what they count together at most; −1 where no second has so many. */
  readonly #mostHeard: readonly number[];

  constructor(question: PairQuestion) {
    this.#question = question;
    const { setup, fixed, places, by, options, candidates, keep } = question;
    const [a, b] = places;
    const withFixed = fixed.reduce((all, control) => withControl(all, control), setup);
    const filled = places.reduce(
      (all, place) => withControl(all, { ...place, pulls: [] }),
      withFixed,
    );
    const without = places.reduce((all, { id }) => withoutControl(all, id), filled);
    const kinds = pairKinds(filled, [a.id, b.id]);
    const middle = middlePedal(filled);
    const before = shapesOf(compile(setup, middle), options);
    const rest = shapesOf(compile(without, middle), options);
    const grounds = setup.necks.map((_, index) => {
      const there = easesOf(rest[index] as NeckShapes, by);
      const added = (withIt: typeof kinds.both) => ({
        rest: there,
        additions: new NeckAdditions(filled, index + 1, withIt, by, options, there),
      });
      return {
        before: easesOf(before[index] as NeckShapes, by),
        rest: there,
        joint: new NeckJoint(filled, index + 1, kinds.both, by, options),
        grips: GripBounds.serves(options)
          ? new GripBounds(filled, index + 1, kinds.both, by, options, there)
          : undefined,
        first: added(kinds.first),
        second: added(kinds.second),
      };
    });
    this.#necks = grounds;
    this.#base = grounds.reduce(
      (sum, { before: was, rest: is }) => sum + sumsByType(by, was, is).reduce((x, y) => x + y, 0),
      0,
    );
    const isPlayable = (of: 'before' | 'rest', chordNumber: number): boolean =>
      grounds.some((neck) => easeAt(neck[of], chordNumber) > 0);
    this.#atRisk = keep.filter((each) => isPlayable('before', each) && !isPlayable('rest', each));
    this.#meeting = kinds.canLetGo;
    this.clarities = new ClarityTogether(
      setup,
      filled,
      [...fixed, ...places].map(({ id }) => id),
      by,
    );
    this.#first = new CandidateEases(
      by,
      candidates,
      grounds.map(({ first }) => first),
    );
    const sets = new SecondSets(
      by,
      candidates,
      grounds.map(({ second }) => second),
      (pulls) => this.clarities.atMost(b.id, pulls),
    );
    this.#sets = sets;
    this.#most = sets.sizes.reduce((most, size) => Math.max(most, size), 0);
    this.#worth = new Float64Array(sets.count);
    const mostHeard = [-1, -1, -1, -1];
    sets.heard.forEach((most, at) => {
      const counted = sets.counted[at] as number;
      mostHeard[counted] = Math.max(mostHeard[counted] ?? -1, most);
    });
    this.#mostHeard = mostHeard;
    this.#mostGain = sets.gains.reduce((most, each) => Math.max(most, each), 0);
    const fixedHeard = fixed.map(({ id, pulls }) => this.clarities.atMost(id, pulls));
    this.#fixedHeard = {
      pulls: fixedHeard.reduce((sum, { pulls }) => sum + pulls, 0),
      most: fixedHeard.reduce((sum, { most }) => sum + most, 0),
    };
    this.#fixedPulls = fixed.reduce((sum, { pulls }) => sum + pulls.length, 0);
    const feet = new Feet(filled);
    const cheapest = kinds.both.reduce(
      (least, engaged) => Math.min(least, feetPrice(feet, engaged)),
      Infinity,
    );
    this.#cheapest = cheapest === Infinity ? 0 : easeOf(cheapest, false);
  }

  /** How many pull sets each of the two can have. */
  get count(): number {
    return this.#sets.count;
  }

  /** The eases with a first pull set, all necks one after another, and the sum that it adds. */
  #withFirst(first: number): { now: Uint16Array; sum: number } {
    const size = this.#question.by.types.length * 144;
    const now = new Uint16Array(size * this.#necks.length);
    let sum = 0;
    this.#first.with(first, () => {
      sum = this.#first.added;
      this.#first.now.forEach((eases, neck) => now.set(eases, neck * size));
    });
    return { now, sum: this.#base + sum };
  }

  /** No score of a pair with this first pull set is above this. */
  mostWith(first: number): number {
    const { weight } = this.#question.by;
    const { now, sum } = this.#withFirst(first);
    const size = this.#question.by.types.length * 144;
    let joint = 0;
    for (let at = 0; at < now.length; at++) {
      const neck = Math.floor(at / size);
      const more = this.#cheapest - (now[at] as number);
      if (more > 0) joint += more * (weight[Math.floor((at - neck * size) / 12)] as number);
    }
    const gain = gainOf(sum + this.#mostGain + joint);
    if (gain <= 0) return 0;
    const own = this.clarities.atMost(
      this.#question.places[0].id,
      this.#sets.pulls[first] as readonly PlainPull[],
    );
    return this.#mostHeard.reduce((score, most, counted) => {
      if (most < 0) return score;
      const pulls = own.pulls + this.#fixedHeard.pulls + counted;
      return Math.max(score, scoreAtMost(gain, pulls, own.most + this.#fixedHeard.most + most));
    }, 0);
  }

  /** No score of the setup with new controls is above this, whatever they pull: every spot at the best ease. */
  get mostOfAll(): number {
    const { weight } = this.#question.by;
    let sum = 0;
    this.#necks.forEach(({ before }) => {
      for (let spot = 0; spot < before.length; spot++)
        sum +=
          (easeOf(0, false) - (before[spot] as number)) * (weight[Math.floor(spot / 12)] as number);
    });
    return gainOf(sum);
  }

  /** Weighs the pairs of one first pull set, but for those whose bound is below what is wanted. */
  weigh(first: number, wanted: Wanted, counts: Counting): void {
    const { by, places } = this.#question;
    const sets = this.#sets;
    const { sizes, necks, partsFrom, parts, gains, counted, heard } = sets;
    const size = by.types.length * 144;
    const { now, sum } = this.#withFirst(first);
    const views = this.#necks.map((_, neck) => now.subarray(neck * size, (neck + 1) * size));
    const pulls = sets.pulls[first] as readonly PlainPull[];
    const own = this.clarities.atMost(places[0].id, pulls);
    const pullsBefore = own.pulls + this.#fixedHeard.pulls;
    const heardBefore = own.most + this.#fixedHeard.most;
    const moved = pulls.length + this.#fixedPulls;
    const meeting = this.#meeting;
    let always = sum;
    this.#necks.forEach(({ joint, grips }, neck) => {
      const here = pulls.filter((pull) => pull.neck === neck + 1);
      joint.fix(here);
      grips?.fix(here, meeting);
      if (!meeting) always += joint.worth([], views[neck] as Eases, false);
    });
    const { uselessBy } = wanted;
    const leastOf = (): number[] =>
      Array.from({ length: this.#most + 1 }, (_, more) => wanted.least(moved + more));
    let least = leastOf();
    const worth = this.#worth;
    const worthOf = (second: number): number =>
      (this.#necks[necks[second] as number] as PairNeck).joint.worth(
        sets.pulls[second] as readonly PlainPull[],
        views[necks[second] as number] as Eases,
        meeting,
      );
    let held = -1;
    for (let second = 0; second < this.count; second++) {
      const many = sizes[second] as number;
      const neck = necks[second] as number;
      const grips = many < this.#most ? undefined : this.#necks[neck]?.grips;
      let joint = 0;
      const end = partsFrom[second + 1] as number;
      for (let at = partsFrom[second] as number; at < end; at++)
        joint += worth[parts[at] as number] as number;
      // what is a part of others is asked in any case
      if (neck >= 0 && grips === undefined) joint += worth[second] = worthOf(second);
      const useless = uselessBy?.(second);
      if (useless !== undefined) {
        counts[useless]++;
        continue;
      }
      // gains to scores, as `scoreAtMost` has them
      const pullsAll = pullsBefore + (counted[second] as number);
      const clarity = clarityOfHeard(heardBefore + (heard[second] as number), pullsAll) * ROUNDING;
      const asked = least[many] as number;
      const isShort = (bound: number): boolean => bound <= 0 || gainOf(bound) * clarity < asked;
      const alone = always + (gains[second] as number);
      if (grips !== undefined) {
        if (held !== sets.strings[second]) {
          held = sets.strings[second] as number;
          const others = sets.pulls[second] as readonly PlainPull[];
          grips.hold(others.map(({ string }) => string - 1));
        }
        if (isShort(alone + joint + grips.most(sets.amounts, second * PLACES))) {
          counts.parts++;
          continue;
        }
        joint += worthOf(second);
      }
      if (isShort(alone + joint)) {
        counts.parts++;
        continue;
      }
      const spots = this.#spotsBeside(second, now);
      if (isShort(always + joint + spots)) {
        counts.spots++;
        continue;
      }
      counts.weighed++;
      const exact = this.#exactly(second, now, views, sum + spots);
      if (exact === undefined || exact <= 0) continue;
      if (isShort(exact)) {
        counts.gain++;
        continue;
      }
      const score = this.clarities.scoreOf(
        gainOf(exact),
        new Map([
          ...this.#question.fixed.map(({ id, pulls: each }) => [id, each] as const),
          [places[0].id, pulls],
          [places[1].id, sets.pulls[second] as readonly PlainPull[]],
        ]),
      );
      if (score < asked) continue;
      wanted.tell({ first, second, sum: exact, score });
      least = leastOf();
    }
  }

  /** The sum of what a second pull set alone gives above what is there with the first. */
  #spotsBeside(second: number, now: Uint16Array): number {
    const { spots, eases, spotsFrom } = this.#sets;
    const { types, weight } = this.#question.by;
    const size = types.length * 144;
    let sum = 0;
    const end = spotsFrom[second + 1] as number;
    for (let at = spotsFrom[second] as number; at < end; at++) {
      const spot = spots[at] as number;
      const more = (eases[at] as number) - (now[spot] as number);
      if (more > 0) sum += more * (weight[Math.floor((spot % size) / 12)] as number);
    }
    return sum;
  }

  /** The exact sum of a pair whose first is in `now`; `undefined` where it gives up what must stay. */
  #exactly(
    second: number,
    now: Uint16Array,
    views: readonly Eases[],
    sum: number,
  ): number | undefined {
    const { spots, eases, spotsFrom } = this.#sets;
    const start = spotsFrom[second] as number;
    const end = spotsFrom[second + 1] as number;
    const were = new Uint16Array(end - start);
    for (let at = start; at < end; at++) {
      const spot = spots[at] as number;
      were[at - start] = now[spot] as number;
      if ((eases[at] as number) > (now[spot] as number)) now[spot] = eases[at] as number;
    }
    const others = this.#sets.pulls[second] as readonly PlainPull[];
    let all = sum;
    this.#necks.forEach(({ joint }, neck) => {
      const on = others.filter((pull) => pull.neck === neck + 1);
      all += joint.raise(on, views[neck] as Eases, this.#meeting, false);
    });
    const isKept = this.#atRisk.every((each) => views.some((eases) => easeAt(eases, each) > 0));
    this.#necks.forEach(({ joint }, neck) => {
      joint.putBack(views[neck] as Eases);
    });
    for (let at = start; at < end; at++) now[spots[at] as number] = were[at - start] as number;
    return isKept ? all : undefined;
  }
}
