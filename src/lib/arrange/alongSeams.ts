/**
 * The best ways through chords as they are written, seams and all (`asWritten.ts`).
 *
 * The chain of the chords as written is what the plain search solves. A search over parts of the candidates at the
 * seams' goals (branch and bound) makes it exact: under a part each seam costs at least its least price to what is
 * left of its goal, which is added to the candidates where it begins. So what the chain takes a way to cost, its
 * bound, is never above what it costs; and where one candidate is left of a goal it is just that. A part gives its
 * first few ways in the order of their bounds, and they are known by what they cost. Once the last of these bounds is
 * not before the last of the best ways that are known, no other way of the part can be among them; until then the
 * part is split at a goal where a way costs more than its bound, by where that way goes: its fret first, then its
 * position, then the candidate itself. Parts with the least bound are looked at first. Ways and bounds are compared by
 * cost, then by places, so that the order is total.
 */
import { aheadBy, lastAhead } from './backward';
import { withEffort, type Seam, type Written } from './asWritten';
import { compareWays } from './beginnings';
import type { FoundWay, Known, WaysQuestion } from './bestWays';
import { NEVER, changedBits, semitonesBetween } from './moveCosts';
import { Passage } from './onward';
import { narrowedStage, plainStage, type Stage } from './stage';

/** Chains that are solved before an answer is given that may not be the best. */
const MOST_CHAINS = 1000;

/** By candidate of the whole layer: a price. */
type Least = ReadonlyMap<number, number>;

/** By goal: the stage with what is left of it. */
type Left = ReadonlyMap<number, Stage>;

/** A way of the chords as written, as a part knows it. */
interface Bounded {
  /** With its bound as its cost. */
  readonly way: FoundWay;
  /** Goals to which a seam costs more than it was taken for, with how much more in all. */
  readonly loose: ReadonlyMap<number, number>;
}

/** A part of the ways, with its first few in the order of their bounds. */
interface Part {
  readonly left: Left;
  readonly first: readonly Bounded[];
  /** There are no others in it. */
  readonly isWhole: boolean;
}

/** The search for one question. */
export class AlongSeams {
  readonly #written: Written;
  readonly #question: Pick<WaysQuestion, 'home' | 'most'>;
  readonly #solve: (question: WaysQuestion) => FoundWay[];
  #chains = 0;
  /** The best ways known, with what they cost. */
  #best: FoundWay[] = [];
  /** Of stages that are the same from chain to chain. */
  readonly #known: Known = new Map();
  readonly #least = new Map<Seam, { from: Stage; to: Stage; prices: Least }[]>();
  readonly #dearerStages = new Map<Stage, { prices: readonly Least[]; dearer: Stage }[]>();

  constructor(
    written: Written,
    question: Pick<WaysQuestion, 'home' | 'most'>,
    solve: (question: WaysQuestion) => FoundWay[],
  ) {
    this.#question = question;
    this.#solve = solve;
    this.#written = written;
  }

  /** The stages of the chain for a part, the least prices of the seams among their efforts. */
  #stages(left: Left): { whole: Stage[]; stages: Stage[]; least: Least[] } {
    const { seams } = this.#written;
    const whole = this.#written.stages.map((stage, at) => left.get(at) ?? stage);
    const stages = [...whole];
    const least = seams.map((seam) =>
      this.#leastOf(seam, whole[seam.from] as Stage, whole[seam.to] as Stage),
    );
    for (const from of new Set(seams.map((seam) => seam.from))) {
      const own = least.filter((_, seam) => seams[seam]?.from === from);
      stages[from] = this.#dearer(whole[from] as Stage, own);
    }
    return { whole, stages, least };
  }

  /** What a seam costs at least from each candidate of a stage to one of another. */
  #leastOf(seam: Seam, from: Stage, to: Stage): Least {
    const { costs, joint } = seam;
    const known = this.#least.get(seam) ?? [];
    const found = known.find((each) => each.from === from && each.to === to);
    if (found !== undefined) return found.prices;
    const source = withEffort(from, () => 0);
    const ahead = lastAhead(
      withEffort(to, () => 0),
      costs,
    );
    const passage = new Passage(source, costs.codesOf(source), ahead, costs, 1, joint);
    const { candidates, onward } = aheadBy(passage);
    const prices = new Map<number, number>();
    candidates.forEach((candidate, row) => {
      prices.set(source.same[candidate] as number, onward[row] as number);
    });
    this.#least.set(seam, [...known, { from, to, prices }]);
    return prices;
  }

  /** A stage with the prices of seams among its efforts; the same one for the same prices. */
  #dearer(stage: Stage, prices: readonly Least[]): Stage {
    const known = this.#dearerStages.get(stage) ?? [];
    const found = known.find((each) => each.prices.every((price, at) => price === prices[at]));
    if (found !== undefined) return found.dearer;
    const sum = (candidate: number): number =>
      prices.reduce((all, each) => all + (each.get(candidate) ?? 0), 0);
    const dearer = withEffort(
      stage,
      (candidate) => (stage.effort[candidate] as number) + sum(stage.same[candidate] as number),
    );
    this.#dearerStages.set(stage, [...known, { prices, dearer }]);
    return dearer;
  }

  /** The chain with such stages, as the plain search is asked. */
  #chainOf(stages: readonly Stage[], most: number): WaysQuestion {
    const { moves, joints, weights, apart, costs } = this.#written;
    return {
      ...{ stages, costs, moves, weights, most, apart, known: this.#known },
      times: moves.map(() => 1),
      home: this.#question.home,
      ...(joints === undefined ? {} : { joints }),
    };
  }

  /** A part, with as many of its ways as are asked for; those that are new among the best are kept. */
  #part(left: Left, most: number): Part | undefined {
    if ([...left.values()].some(({ layer }) => layer.count === 0)) return undefined;
    const { seams } = this.#written;
    const { whole, stages, least } = this.#stages(left);
    this.#chains++;
    const ways = this.#solve(this.#chainOf(stages, most));
    const first = ways.map((way): Bounded => {
      const loose = new Map<number, number>();
      seams.forEach((each, seam) => {
        const { from, to } = each;
        const [one, other] = [way.candidates[from] as number, way.candidates[to] as number];
        const price = seamPrice(whole[from] as Stage, whole[to] as Stage, [one, other], each);
        const more = price - (least[seam]?.get(one) ?? 0);
        if (more > 0) loose.set(to, (loose.get(to) ?? 0) + more);
      });
      const more = [...loose.values()].reduce((sum, each) => sum + each, 0);
      this.#keep({ ...way, cost: way.cost + more });
      return { way, loose };
    });
    return { left, first, isWhole: first.length < most };
  }

  /** A way that costs so much: among the best ones, if it is. */
  #keep(way: FoundWay): void {
    const same = this.#best.findIndex(
      ({ places }) => compareWays({ cost: 0, places }, { cost: 0, places: way.places }) === 0,
    );
    if (same >= 0) {
      if ((this.#best[same] as FoundWay).cost <= way.cost) return;
      this.#best.splice(same, 1);
    }
    this.#best.push(way);
    this.#best.sort(compareWays);
    if (this.#best.length > this.#question.most) this.#best.pop();
  }

  /** Can ways with such a bound, and those after it, be left out? */
  #isBeyond(way: FoundWay): boolean {
    const last = this.#best[this.#question.most - 1];
    return last !== undefined && compareWays(way, last) >= 0;
  }

  /** The goal to split a part at; nothing where it has no more ways that could be among the best. */
  #looseGoal({ left, first, isWhole }: Part): readonly [goal: number, way: FoundWay] | undefined {
    const { goals } = this.#written;
    const counting = first.filter(({ way }) => !this.#isBeyond(way));
    const byPositions = this.#written.apart === 'positions';
    // every way that could count is known by what it costs
    if ((isWhole || counting.length < first.length) && !byPositions) return undefined;
    for (const { way, loose } of counting) {
      const [goal] = goals
        .filter(
          (each) =>
            loose.has(each) &&
            (left.get(each) ?? (this.#written.stages[each] as Stage)).layer.count > 1,
        )
        .sort((a, b) => (loose.get(b) ?? 0) - (loose.get(a) ?? 0));
      if (goal !== undefined) return [goal, way];
    }
    return undefined;
  }

  /** What is left of a goal, where nothing stays but what its rows say. */
  #narrowed(stage: Stage, isChosen: (candidate: number) => boolean): Stage {
    const efforts = new Map(
      [...stage.same].map((candidate, at) => [candidate, stage.effort[at] as number]),
    );
    const left = plainStage(narrowedStage(stage, isChosen));
    return withEffort(left, (candidate) => efforts.get(left.same[candidate] as number) as number);
  }

  /** The two parts of a part at a goal: where a way goes, and the rest. */
  #split(left: Left, goal: number, way: FoundWay): Left[] {
    const stage = left.get(goal) ?? this.#written.stages[goal];
    if (stage === undefined) throw new Error(`no stage ${String(goal)}`);
    const { layer } = stage;
    const fretOf = (candidate: number) =>
      layer.positions[layer.position[candidate] as number]?.fret;
    const taken = stage.same.indexOf(way.candidates[goal] as number);
    const fret = fretOf(taken);
    const sameFret = (candidate: number): boolean => fretOf(candidate) === fret;
    const samePosition = (candidate: number): boolean =>
      layer.position[candidate] === layer.position[taken];
    const isAll = (test: (candidate: number) => boolean): boolean =>
      stage.same.every((_, candidate) => test(candidate));
    const like = isAll(samePosition)
      ? (candidate: number): boolean => candidate === taken
      : isAll(sameFret)
        ? samePosition
        : sameFret;
    return [like, (candidate: number) => !like(candidate)].map((test) =>
      new Map(left).set(goal, this.#narrowed(stage, test)),
    );
  }

  /** The best ways of the chords as written; and a bound that no way has less than that is not among them. */
  best(): { ways: readonly FoundWay[]; least: number } {
    const least = this.#search();
    return { ways: this.#best, least };
  }

  /** Looks for the best ways; the least bound of what was not looked at. */
  #search(): number {
    const { most } = this.#question;
    this.#chains = 0;
    const open: Part[] = [];
    const look = (left: Left): void => {
      const part = this.#part(left, most);
      const [least] = part?.first ?? [];
      if (part === undefined || least === undefined) return;
      const where = open.findIndex(
        ({ first }) => compareWays((first[0] as Bounded).way, least.way) > 0,
      );
      open.splice(where < 0 ? open.length : where, 0, part);
    };
    look(new Map());
    for (let part = open.shift(); part !== undefined; part = open.shift()) {
      const { way } = part.first[0] as Bounded;
      if (this.#isBeyond(way)) return NEVER;
      const split = this.#looseGoal(part);
      if (split === undefined) continue;
      if (this.#chains >= MOST_CHAINS) return way.cost;
      for (const left of this.#split(part.left, ...split)) look(left);
    }
    return NEVER;
  }
}

/** What a seam costs between two candidates of whole layers. */
function seamPrice(
  from: Stage,
  to: Stage,
  [one, other]: readonly [number, number],
  { costs, joint }: Seam,
): number {
  const [a, b] = [from.same.indexOf(one), to.same.indexOf(other)];
  const [p, q] = [from.layer.position[a] as number, to.layer.position[b] as number];
  const into = new Int32Array(to.held.length);
  costs.pricesTo(costs.codesOf(from), p, costs.codesOf(to), [q], 1, 1, into);
  const sameNeck = from.held[p]?.neck === to.held[q]?.neck;
  const changed = changedBits(from.layer.grip[a] as number, to.layer.grip[b] as number, sameNeck);
  const semitones = semitonesBetween(from.layer, a, to.layer, b);
  return (
    (into[q] as number) +
    (joint?.price(one, other) ??
      (costs.picking[changed] as number) + (costs.voices[semitones] as number))
  );
}
