/** What all pairs of pull sets for two stations share: the necks without the two and with them, and each pull set by itself. */
import type { Candidates, PlainPull } from '$lib/setup/candidates';
import { withControl, withoutControl } from '$lib/setup/proposal';
import type { Control, Setup } from '$lib/setup/setup';
import { compile } from '$lib/engine/instrument';
import { shapesOf, type NeckShapes } from '$lib/engine/shapes';
import { Feet, middlePedal } from '$lib/effort/feet';
import { feetPrice } from '$lib/effort/prices';
import { NeckAdditions } from './additions';
import { CandidateEases } from './candidateEases';
import { ClarityTogether, type HeardAtMost } from './clarityTogether';
import { easeAt, easeOf, easesOf, sumsByType, type Eases } from './ease';
import { GripBounds } from './gripBounds';
import { canRemember, MovedStates } from './movedStates';
import { NeckJoint } from './neckJoint';
import { pairKinds } from './pairKinds';
import { SecondSets } from './secondSets';
import type { ShapeOptions } from './shapeOptions';
import type { Yardstick } from './yardstick';

/** A control to be filled, by the name it gets and where it is. */
export type Place = Pick<Control, 'id' | 'station'>;

/** Two stations to be filled on a setup, and by what their pulls are measured. */
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

/** One neck: what it gives before, without the two, and with both of them. */
interface PairNeck {
  readonly before: Eases;
  readonly rest: Eases;
  readonly joint: NeckJoint;
  /** Where grips have no more strings than can be bounded one by one. */
  readonly grips: GripBounds | undefined;
}

/** The ground of one question, made ready once for all its units. */
export class PairGround {
  readonly question: PairQuestion;
  readonly necks: readonly PairNeck[];
  /** New controls that have their pulls come first in it. */
  readonly clarities: ClarityTogether;
  /** The second pull sets, which are the first ones too. */
  readonly sets: SecondSets;
  /** Chord numbers that must not be lost, and would be without the two. */
  readonly atRisk: readonly number[];
  /** Do grips count only where both controls move something? */
  readonly meeting: boolean;
  /** The ease of the least effort that engaging both takes. */
  readonly cheapest: number;
  /** What the pulls of new controls that have theirs count at most. */
  readonly fixedHeard: HeardAtMost;
  readonly fixedPulls: number;
  readonly #first: CandidateEases;
  readonly #base: number;
  readonly #statesOf: () => MovedStates[];
  #states: readonly MovedStates[] | undefined;

  constructor(question: PairQuestion) {
    this.question = question;
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
      const neck = index + 1;
      const under = (withIt: typeof kinds.both) => ({ filled, neck, withIt, by, options });
      const added = (withIt: typeof kinds.both) => ({
        rest: there,
        additions: new NeckAdditions(under(withIt), there),
      });
      const both = under(kinds.both);
      return {
        before: easesOf(before[index] as NeckShapes, by),
        rest: there,
        both,
        joint: new NeckJoint(both),
        grips: canRemember(options) ? new GripBounds(both, there) : undefined,
        first: added(kinds.first),
        second: added(kinds.second),
      };
    });
    this.necks = grounds;
    this.#base = grounds.reduce(
      (sum, { before: was, rest: is }) => sum + sumsByType(by, was, is).reduce((x, y) => x + y, 0),
      0,
    );
    const isPlayable = (of: 'before' | 'rest', chordNumber: number): boolean =>
      grounds.some((neck) => easeAt(neck[of], chordNumber) > 0);
    this.atRisk = keep.filter((each) => isPlayable('before', each) && !isPlayable('rest', each));
    this.meeting = kinds.canLetGo;
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
    this.sets = new SecondSets(
      by,
      candidates,
      grounds.map(({ second }) => second),
      (pulls) => this.clarities.atMost(b.id, pulls),
    );
    const fixedHeard = fixed.map(({ id, pulls }) => this.clarities.atMost(id, pulls));
    this.fixedHeard = {
      pulls: fixedHeard.reduce((sum, { pulls }) => sum + pulls, 0),
      most: fixedHeard.reduce((sum, { most }) => sum + most, 0),
    };
    this.fixedPulls = fixed.reduce((sum, { pulls }) => sum + pulls.length, 0);
    const feet = new Feet(filled);
    const cheapest = kinds.both.reduce(
      (least, engaged) => Math.min(least, feetPrice(feet, engaged)),
      Infinity,
    );
    this.cheapest = cheapest === Infinity ? 0 : easeOf(cheapest, false);
    this.#statesOf = () => grounds.map(({ both, rest: there }) => new MovedStates(both, there));
  }

  /** Spots of one neck. */
  get size(): number {
    return this.question.by.types.length * 144;
  }

  /** By neck what grips give by what is done to their strings; only where that can be remembered. */
  get states(): readonly MovedStates[] {
    return (this.#states ??= this.#statesOf());
  }

  /** The eases with a first pull set, all necks one after another, and the sum that it adds. */
  withFirst(first: number): { now: Uint16Array; sum: number } {
    const now = new Uint16Array(this.size * this.necks.length);
    let sum = 0;
    this.#first.with(first, () => {
      sum = this.#first.added;
      this.#first.now.forEach((eases, neck) => now.set(eases, neck * this.size));
    });
    return { now, sum: this.#base + sum };
  }

  /** What the pulls of a first pull set, and of new controls that have theirs, count at most. */
  heardWith(first: number): HeardAtMost {
    const [{ id }] = this.question.places;
    const own = this.clarities.atMost(id, this.sets.pulls[first] as readonly PlainPull[]);
    return {
      pulls: own.pulls + this.fixedHeard.pulls,
      most: own.most + this.fixedHeard.most,
    };
  }

  /** The sum of what a second pull set alone gives above what is there with the first. */
  spotsBeside(second: number, now: Uint16Array): number {
    const { spots, eases, spotsFrom } = this.sets;
    const { weight } = this.question.by;
    const { size } = this;
    let sum = 0;
    const end = spotsFrom[second + 1] as number;
    for (let at = spotsFrom[second] as number; at < end; at++) {
      const spot = spots[at] as number;
      const more = (eases[at] as number) - (now[spot] as number);
      if (more > 0) sum += more * (weight[Math.floor((spot % size) / 12)] as number);
    }
    return sum;
  }
}
