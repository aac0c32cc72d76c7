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
 */
import type { PlainPull } from '$lib/setup/candidates';
import { clarityOfHeard } from './clarity';
import { ROUNDING } from './clarityTogether';
import { easeAt, easeOf, gainOf, type Eases } from './ease';
import { FirstBounds } from './firstBounds';
import type { Counts } from './foundTogether';
import { PairGround, type PairQuestion } from './pairGround';
import { PLACES } from './secondSets';

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

/** A search over pull sets of two stations, unit by unit: each is a set of the first with all of the second. */
export class PairSearch {
  readonly #ground: PairGround;
  readonly #bounds: FirstBounds;
  readonly #most: number;
  readonly #worth: Float64Array;

  constructor(question: PairQuestion) {
    this.#ground = new PairGround(question);
    this.#bounds = new FirstBounds(this.#ground);
    const { sets } = this.#ground;
    this.#most = sets.sizes.reduce((most, size) => Math.max(most, size), 0);
    this.#worth = new Float64Array(sets.count);
  }

  /** How many pull sets each of the two can have. */
  get count(): number {
    return this.#ground.sets.count;
  }

  /** No score of a pair with this first pull set is above this. */
  mostWith(first: number): number {
    return this.#bounds.most(first);
  }

  /** No score of the setup with new controls is above this, whatever they pull: every spot at the best ease. */
  get mostOfAll(): number {
    const { weight } = this.#ground.question.by;
    let sum = 0;
    this.#ground.necks.forEach(({ before }) => {
      for (let spot = 0; spot < before.length; spot++)
        sum +=
          (easeOf(0, false) - (before[spot] as number)) * (weight[Math.floor(spot / 12)] as number);
    });
    return gainOf(sum);
  }

  /** Weighs the pairs of one first pull set, but for those whose bound is below what is wanted. */
  weigh(first: number, wanted: Wanted, counts: Counting): void {
    const ground = this.#ground;
    const { sets } = ground;
    const { fixed, places } = ground.question;
    const { sizes, necks, partsFrom, parts, gains, counted, heard } = sets;
    const { size, meeting } = ground;
    const { now, sum } = ground.withFirst(first);
    const views = ground.necks.map((_, neck) => now.subarray(neck * size, (neck + 1) * size));
    const pulls = sets.pulls[first] as readonly PlainPull[];
    const { pulls: pullsBefore, most: heardBefore } = ground.heardWith(first);
    const moved = pulls.length + ground.fixedPulls;
    let always = sum;
    ground.necks.forEach(({ joint, grips }, neck) => {
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
      (ground.necks[necks[second] as number] as PairGround['necks'][number]).joint.worth(
        sets.pulls[second] as readonly PlainPull[],
        views[necks[second] as number] as Eases,
        meeting,
      );
    let held = -1;
    for (let second = 0; second < this.count; second++) {
      const many = sizes[second] as number;
      const neck = necks[second] as number;
      const grips = many < this.#most ? undefined : ground.necks[neck]?.grips;
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
      const spots = ground.spotsBeside(second, now);
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
      const score = ground.clarities.scoreOf(
        gainOf(exact),
        new Map([
          ...fixed.map(({ id, pulls: each }) => [id, each] as const),
          [places[0].id, pulls],
          [places[1].id, sets.pulls[second] as readonly PlainPull[]],
        ]),
      );
      if (score < asked) continue;
      wanted.tell({ first, second, sum: exact, score });
      least = leastOf();
    }
  }

  /** The exact sum of a pair whose first is in `now`; `undefined` where it gives up what must stay. */
  #exactly(
    second: number,
    now: Uint16Array,
    views: readonly Eases[],
    sum: number,
  ): number | undefined {
    const { necks, meeting, sets, atRisk } = this.#ground;
    const { spots, eases, spotsFrom } = sets;
    const start = spotsFrom[second] as number;
    const end = spotsFrom[second + 1] as number;
    const were = new Uint16Array(end - start);
    for (let at = start; at < end; at++) {
      const spot = spots[at] as number;
      were[at - start] = now[spot] as number;
      if ((eases[at] as number) > (now[spot] as number)) now[spot] = eases[at] as number;
    }
    const others = sets.pulls[second] as readonly PlainPull[];
    let all = sum;
    necks.forEach(({ joint }, neck) => {
      const on = others.filter((pull) => pull.neck === neck + 1);
      all += joint.raise(on, views[neck] as Eases, meeting, false);
    });
    const isKept = atRisk.every((each) => views.some((eases) => easeAt(eases, each) > 0));
    necks.forEach(({ joint }, neck) => {
      joint.putBack(views[neck] as Eases);
    });
    for (let at = start; at < end; at++) now[spots[at] as number] = were[at - start] as number;
    return isKept ? all : undefined;
  }
}
