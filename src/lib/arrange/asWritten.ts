/**
 * The chords of a piece as they are written, for a search in which all passes are played alike: each is one
 * stage and weighs as often as it is played. Moves between neighbours as written make a chain; the other moves
 * (from the end of a pass to its beginning, into an ending, by a jump) are *seams* between two stages of it.
 */
import type { WaysQuestion } from './bestWays';
import type { MoveCosts } from './moveCosts';
import { narrowedStage, plainStage, type Stage } from './stage';

/** What a move costs, as often as it is made. */
export interface Edge {
  readonly from: number;
  readonly to: number;
  /** By seconds that there are for it: how often. */
  readonly times: Map<number, number>;
}

/** A move that is not to the next chord as written. */
export interface Seam extends Edge {
  readonly costs: MoveCosts;
}

/** The chords as they are written. */
export interface Written {
  /** In their order. */
  readonly stages: readonly Stage[];
  /** By stage: its efforts, as often as it is played, by the candidates of the whole layer. */
  readonly efforts: readonly ReadonlyMap<number, number>[];
  /** By stage but the last: what going on to the next one costs. */
  readonly moves: readonly MoveCosts[];
  /** By stage but the last; the seconds are in the prices. */
  readonly times: readonly number[];
  readonly seams: readonly Seam[];
  /** The stages that seams lead to. */
  readonly goals: readonly number[];
  /** The stages that seams lead from or to. */
  readonly joints: ReadonlySet<number>;
  /** By stage but the last: how often going on to the next one is paid for. */
  readonly weights: readonly number[];
  /** By stage in the order of playing: the stage as it is written. */
  readonly at: readonly number[];
}

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

/**
 * The chords as they are written.
 *
 * @param question with `passes`
 */
export function writtenOf({ stages, costs, times, passes = [] }: WaysQuestion): Written {
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
  const joints = new Set(seams.flatMap(({ from, to }) => [from, to]));
  const all = order.map((first) =>
    together((groups.get(first) ?? []).map((each) => stages[each] as Stage)),
  );
  const chain = order
    .slice(1)
    .map((_, from) => edges.get(`${from} ${from + 1}`)?.times ?? new Map<number, number>());
  return {
    stages: all.map(({ stage, efforts }, each) =>
      priced(joints.has(each) ? plainStage(stage) : stage, efforts),
    ),
    efforts: all.map(({ efforts }) => efforts),
    moves: chain.map((each) => asOften(costs, each)),
    times: chain.map(() => 1),
    seams: seams.map((edge) => ({ ...edge, costs: asOften(costs, edge.times) })),
    joints,
    goals: [...new Set(seams.map(({ to }) => to))],
    weights: chain.map((each) => [...each.values()].reduce((sum, often) => sum + often, 0)),
    at,
  };
}

/** A stage with other efforts. */
export const withEffort = (stage: Stage, effort: (candidate: number) => number): Stage => ({
  ...stage,
  effort: stage.effort.map((_, candidate) => effort(candidate)),
});

/** A stage with the efforts of all passes together. */
export const priced = (stage: Stage, efforts: ReadonlyMap<number, number>): Stage =>
  withEffort(stage, (candidate) => efforts.get(stage.same[candidate] as number) ?? 0);
