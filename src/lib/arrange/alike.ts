/**
 * The exact best ways of a piece in which all passes of a repeat are played the same.
 *
 * Every chord is one stage as it is written, and weighs as often as it is played. Moves between neighbours as
 * written make a chain, which the plain search solves; the other moves (from the end of a pass to its
 * beginning, into an ending, by a jump) are *seams* between two stages of that chain. A search over parts of
 * the candidates at the seams' goals (branch and bound) makes it exact: under a part each seam costs at least
 * its least price to what is left of its goal, which is added to the candidates where it begins. Where one
 * candidate is left of each goal, that is its price, and the chain's answer is exact. Parts are split by where
 * the best way of the chain goes: its fret first, then its position, then the candidate itself; those with the
 * least bound are looked at first, and the first of them whose seams cost what they were taken for has the best
 * way. Where that takes very long the best one known is given, with what it may cost too much. The other ways
 * that are asked for are the next best of those with the best one's candidates at the seams' goals.
 *
 * At a seam nothing idle stays engaged in this search; the ways found are then held as well as they can be,
 * pass by pass.
 */
import { aheadBy, lastAhead } from './backward';
import { compareWays } from './beginnings';
import { changedBits, semitonesBetween, type MoveCosts } from './moveCosts';
import { Passage } from './onward';
import { narrowedStage, plainStage, type Stage } from './stage';
import type { FoundWay, Known, WaysQuestion } from './bestWays';

/** What a move costs, as often as it is made. */
interface Edge {
  readonly from: number;
  readonly to: number;
  /** By seconds that there are for it: how often. */
  readonly times: Map<number, number>;
}

/** The chords as they are written. */
interface Written {
  /** In their order. */
  readonly stages: readonly Stage[];
  /** By stage: its efforts, as often as it is played, by the candidates of the whole layer. */
  readonly efforts: readonly ReadonlyMap<number, number>[];
  /** By stage but the last: what going on to the next one costs. */
  readonly moves: readonly MoveCosts[];
  readonly times: readonly number[];
  readonly seams: readonly (Edge & { readonly costs: MoveCosts })[];
  /** The stages that seams lead to. */
  readonly goals: readonly number[];
  /** By stage but the last: how often going on to the next one is paid for. */
  readonly weights: readonly number[];
  /** By stage in the order of playing: the stage as it is written. */
  readonly at: readonly number[];
}

/** Chains that are solved before an answer is given that may not be the best. */
const MOST_CHAINS = 60;

/** Prices of a move that is made so often, with so much time each. */
function asOften(costs: MoveCosts, times: ReadonlyMap<number, number>): MoveCosts {
  const often = [...times.values()].reduce((sum, each) => sum + each, 0);
  const [[seconds, each] = [1, 0], ...others] = [...times];
  let more = new Int32Array(0);
  return {
    ...costs,
    pricesTo(from, position, to, which, many, _seconds, into) {
      costs.pricesTo(from, position, to, which, many, seconds, into);
      if (each !== 1)
        for (let i = 0; i < many; i++) {
          const q = which[i] as number;
          into[q] = each * (into[q] as number);
        }
      for (const [otherSeconds, other] of others) {
        if (more.length < into.length) more = new Int32Array(into.length);
        costs.pricesTo(from, position, to, which, many, otherSeconds, more);
        for (let i = 0; i < many; i++) {
          const q = which[i] as number;
          into[q] = (into[q] as number) + other * (more[q] as number);
        }
      }
    },
    picking: costs.picking.map((price) => price * often),
    voices: costs.voices.map((price) => price * often),
  };
}

/** The candidates of one chord in all its passes: what is left of it in each of them, and all its efforts. */
function together(stages: readonly Stage[]): { stage: Stage; efforts: Map<number, number> } {
  const efforts = new Map<number, number>();
  const often = new Map<number, number>();
  for (const { same, effort } of stages)
    same.forEach((candidate, at) => {
      efforts.set(candidate, (efforts.get(candidate) ?? 0) + (effort[at] as number));
      often.set(candidate, (often.get(candidate) ?? 0) + 1);
    });
  const [first] = stages as readonly [Stage];
  const all = (candidate: number): boolean =>
    often.get(first.same[candidate] as number) === stages.length;
  const isWhole = first.same.every((_, candidate) => all(candidate));
  return { stage: isWhole ? first : narrowedStage(first, all), efforts };
}

function writtenOf({ stages, costs, times, passes = [] }: WaysQuestion): Written {
  const groups = new Map<number, number[]>();
  passes.forEach((first, at) => groups.set(first, [...(groups.get(first) ?? []), at]));
  const order = [...groups.keys()].sort((a, b) => a - b);
  const number = new Map(order.map((first, at) => [first, at]));
  const at = passes.map((first) => number.get(first) as number);
  const edges = new Map<string, Edge>();
  at.slice(1).forEach((to, before) => {
    const from = at[before] as number;
    const key = `${from} ${to}`;
    const edge = edges.get(key) ?? { from, to, times: new Map<number, number>() };
    const seconds = times[before] ?? 1;
    edge.times.set(seconds, (edge.times.get(seconds) ?? 0) + 1);
    edges.set(key, edge);
  });
  const isChain = ({ from, to }: Edge): boolean => to === from + 1;
  const seams = [...edges.values()].filter((edge) => !isChain(edge));
  const often = order.map((first) => groups.get(first)?.length ?? 0);
  const isJoint = (stage: number): boolean =>
    stage === 0 ||
    stage === at.at(-1) ||
    seams.some(({ from, to }) => from === stage || to === stage) ||
    often[stage] !== often[stage - 1] ||
    often[stage] !== often[stage + 1];
  const all = order.map((first) =>
    together((groups.get(first) ?? []).map((each) => stages[each] as Stage)),
  );
  const chain = order
    .slice(1)
    .map((_, from) => edges.get(`${from} ${from + 1}`)?.times ?? new Map<number, number>());
  return {
    stages: all.map(({ stage, efforts }, each) =>
      priced(isJoint(each) ? plainStage(stage) : stage, efforts),
    ),
    efforts: all.map(({ efforts }) => efforts),
    moves: chain.map((each) => asOften(costs, each)),
    times: chain.map(() => 1),
    seams: seams.map((edge) => ({ ...edge, costs: asOften(costs, edge.times) })),
    goals: [...new Set(seams.map(({ to }) => to))],
    weights: chain.map((each) => [...each.values()].reduce((sum, often) => sum + often, 0)),
    at,
  };
}

const withEffort = (stage: Stage, effort: (candidate: number) => number): Stage => ({
  ...stage,
  effort: stage.effort.map((_, candidate) => effort(candidate)),
});

/** A stage with the efforts of all passes together. */
const priced = (stage: Stage, efforts: ReadonlyMap<number, number>): Stage =>
  withEffort(stage, (candidate) => efforts.get(stage.same[candidate] as number) ?? 0);

/** By candidate of the whole layer: a price. */
type Least = ReadonlyMap<number, number>;

/** A part of the ways: what is left of the goals, and the best that could be had. */
interface Part {
  /** By goal: the stage with what is left of it. */
  readonly left: ReadonlyMap<number, Stage>;
  readonly bound: number;
  /** By stage as written: the candidate of the whole layer, in the way that the chain would take. */
  readonly way: FoundWay;
  /** Goals at which a seam costs more than it was taken for. */
  readonly loose: ReadonlySet<number>;
}

/** The search for one question. */
class Alike {
  readonly #written: Written;
  readonly #question: WaysQuestion;
  readonly #solve: (question: WaysQuestion) => FoundWay[];
  #chains = 0;
  /** Of stages that are the same from chain to chain. */
  readonly #known: Known = new Map();
  readonly #single = new Map<Stage, Map<number, Stage>>();
  readonly #least = new Map<MoveCosts, { from: Stage; to: Stage; prices: Least }[]>();
  readonly #dearerStages = new Map<Stage, { prices: readonly Least[]; dearer: Stage }[]>();

  constructor(question: WaysQuestion, solve: (question: WaysQuestion) => FoundWay[]) {
    this.#question = question;
    this.#solve = solve;
    this.#written = writtenOf(question);
  }

  /** The stages of the chain for a part, the least prices of the seams among their efforts. */
  #stages(left: ReadonlyMap<number, Stage>): { stages: Stage[]; least: Least[] } {
    const { stages, seams } = this.#written;
    const now = stages.map((whole, at) => left.get(at) ?? whole);
    const whole = [...now];
    const least = seams.map((seam) =>
      this.#leastOf(seam, whole[seam.from] as Stage, whole[seam.to] as Stage),
    );
    for (const from of new Set(seams.map((seam) => seam.from))) {
      const own = least.filter((_, seam) => seams[seam]?.from === from);
      now[from] = this.#dearer(whole[from] as Stage, own);
    }
    return { stages: now, least };
  }

  /** What a seam costs at least from each candidate of a stage to one of another. */
  #leastOf({ costs }: Edge & { costs: MoveCosts }, from: Stage, to: Stage): Least {
    const known = this.#least.get(costs) ?? [];
    const found = known.find((each) => each.from === from && each.to === to);
    if (found !== undefined) return found.prices;
    const source = withEffort(from, () => 0);
    const ahead = lastAhead(
      withEffort(to, () => 0),
      costs,
    );
    const passage = new Passage(source, costs.codesOf(source), ahead, costs, 1);
    const { candidates, onward } = aheadBy(passage);
    const prices = new Map<number, number>();
    candidates.forEach((candidate, row) => {
      prices.set(source.same[candidate] as number, onward[row] as number);
    });
    this.#least.set(costs, [...known, { from, to, prices }]);
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

  #chain(left: ReadonlyMap<number, Stage>, most: number) {
    const { moves, times, weights } = this.#written;
    const { stages, least } = this.#stages(left);
    this.#chains++;

    const { home, apart, costs } = this.#question;
    const ways = this.#solve({
      ...{ stages, costs, moves, times, weights, home, most, known: this.#known },
      ...(apart === undefined ? {} : { apart }),
    });
    return { stages, least, ways };
  }

  #part(left: ReadonlyMap<number, Stage>): Part | undefined {
    if ([...left.values()].some(({ layer }) => layer.count === 0)) return undefined;
    const { seams } = this.#written;
    const { stages, least, ways } = this.#chain(left, 1);
    const [way] = ways;
    if (way === undefined) return undefined;
    const loose = new Set<number>();
    seams.forEach(({ from, to, costs }, seam) => {
      const candidates = [from, to].map((at) => way.candidates[at] as number) as [number, number];
      const price = seamPrice(stages[from] as Stage, stages[to] as Stage, candidates, costs);
      if (price > (least[seam]?.get(candidates[0]) ?? 0)) loose.add(to);
    });
    return { left, bound: way.cost, way, loose };
  }

  #narrowed(goal: number, stage: Stage, isChosen: (candidate: number) => boolean): Stage {
    const efforts = this.#written.efforts[goal] as ReadonlyMap<number, number>;
    return priced(plainStage(narrowedStage(stage, isChosen)), efforts);
  }

  /** The two parts of a part at a goal: where its way goes, and the rest. */
  #split({ left, way }: Part, goal: number): ReadonlyMap<number, Stage>[] {
    const stage: Stage | undefined = left.get(goal) ?? this.#written.stages[goal];
    if (stage === undefined) throw new Error(`no stage ${goal}`);
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
      new Map(left).set(goal, this.#narrowed(goal, stage, test)),
    );
  }

  /** The goals with nothing left but where a way goes. */
  #fixed(way: FoundWay): ReadonlyMap<number, Stage> {
    const { goals, stages } = this.#written;
    return new Map(
      goals.map((goal) => {
        const stage = stages[goal] as Stage;
        const own = way.candidates[goal];
        return [goal, this.#narrowed(goal, stage, (each) => stage.same[each] === own)];
      }),
    );
  }

  /**
   * The best way of the chords as written, and after it the best of those that go through the same candidates at
   * the seams' goals; and what no way can cost less than.
   */
  best(most: number): { ways: FoundWay[]; least: number } {
    const { goals, stages } = this.#written;
    const root = this.#part(new Map());
    const open = root === undefined ? [] : [root];
    for (let part = open.shift(); part !== undefined; part = open.shift()) {
      const { left, loose, bound, way } = part;
      const goal = goals.find(
        (each) => loose.has(each) && (left.get(each) ?? (stages[each] as Stage)).layer.count > 1,
      );
      // nothing is less than the least bound, and this way costs no more
      if (goal === undefined && most === 1) return { ways: [way], least: bound };
      if (goal === undefined || this.#chains >= MOST_CHAINS)
        return { ways: this.#chain(this.#fixed(way), most).ways, least: bound };
      for (const each of this.#split(part, goal)) {
        const next = this.#part(each);
        if (next === undefined) continue;
        const where = open.findIndex((other) => other.bound > next.bound);
        open.splice(where < 0 ? open.length : where, 0, next);
      }
    }
    return { ways: [], least: 0 };
  }

  /** A stage with one candidate left. */
  #alone(stage: Stage, candidate: number): Stage {
    const known = this.#single.get(stage) ?? new Map<number, Stage>();
    this.#single.set(stage, known);
    const found = known.get(candidate);
    if (found !== undefined) return found;
    const effort = stage.effort[stage.same.indexOf(candidate)] as number;
    const one = narrowedStage(stage, (each) => stage.same[each] === candidate);
    const alone = withEffort(one, () => effort);
    known.set(candidate, alone);
    return alone;
  }

  /** A way of the written chords in the order of playing, held as well as it can be. */
  unrolled(way: FoundWay): FoundWay | undefined {
    const { at } = this.#written;
    const { passes: _passes, ...question } = this.#question;
    const stages = question.stages.map((stage, each) => {
      const own = way.candidates[at[each] as number];
      return this.#alone(stage, own as number);
    });
    return this.#solve({ ...question, stages, most: 1 })[0];
  }
}

/** What a seam costs between two candidates of whole layers. */
function seamPrice(
  from: Stage,
  to: Stage,
  [one, other]: readonly [number, number],
  costs: MoveCosts,
): number {
  const [a, b] = [from.same.indexOf(one), to.same.indexOf(other)];
  const [p, q] = [from.layer.position[a] as number, to.layer.position[b] as number];
  const into = new Int32Array(to.held.length);
  costs.pricesTo(costs.codesOf(from), p, costs.codesOf(to), [q], 1, 1, into);
  const sameNeck = from.held[p]?.neck === to.held[q]?.neck;
  const changed = changedBits(from.layer.grip[a] as number, to.layer.grip[b] as number, sameNeck);
  const semitones = semitonesBetween(from.layer, a, to.layer, b);
  return (
    (into[q] as number) + (costs.picking[changed] as number) + (costs.voices[semitones] as number)
  );
}

/**
 * The best ways in which stages of one number are played by the same candidate.
 *
 * @param question with `passes`
 * @param solve the plain search
 */
export function bestAlike(
  question: WaysQuestion,
  solve: (question: WaysQuestion) => FoundWay[],
): FoundWay[] {
  const search = new Alike(question, solve);
  const { ways, least } = search.best(question.most);
  const short = Math.max(0, (ways[0]?.cost ?? 0) - least);
  return ways
    .flatMap((way) => search.unrolled(way) ?? [])
    .sort(compareWays)
    .map((way) => (short === 0 ? way : { ...way, short }));
}
