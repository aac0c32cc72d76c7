/**
 * The chords of a piece as they are written, for a search in which all passes are played alike: each is one
 * stage and weighs as often as it is played. Moves between neighbours as written make a chain; the other moves
 * (from the end of a pass to its beginning, into an ending, by a jump) are *seams* between two stages of it.
 */
import type { WaysQuestion } from './bestWays';
import type { MoveCosts } from './moveCosts';
import type { Joint } from './onward';
import { narrowedStage, type Stage } from './stage';

/** A move between two chords as written, as often as it is made. */
export interface Edge {
  readonly from: number;
  readonly to: number;
  /** In the order of playing: the numbers of the chords that it is made from. */
  readonly made: readonly number[];
}

/** Which chords of the order of playing are one as it is written. */
export interface WrittenOrder {
  /** By chord in the order of playing: the one that it is, as they are written. */
  readonly at: readonly number[];
  /** By chord as written: when it is played. */
  readonly visits: readonly (readonly number[])[];
  readonly edges: readonly Edge[];
}

/** A move that is not to the next chord as written. */
export interface Seam {
  readonly from: number;
  readonly to: number;
  readonly costs: MoveCosts;
  readonly joint: Joint | undefined;
}

/** The chords as they are written, each with its candidates. */
export interface Written {
  /** In their order. */
  readonly stages: readonly Stage[];
  /** What is the same for all moves. */
  readonly costs: MoveCosts;
  /** By stage but the last: what going on to the next one costs. */
  readonly moves: readonly MoveCosts[];
  /** By stage but the last: other prices of it; nothing where they are the usual ones. */
  readonly joints?: readonly Joint[];
  /** By stage but the last: how often going on to the next one is paid for. */
  readonly weights: readonly number[];
  readonly seams: readonly Seam[];
  /** The stages that seams lead to. */
  readonly goals: readonly number[];
  readonly apart: 'voicings' | 'positions';
}

/** Chords in the order of playing, put together by the first ones that are the same as written. */
export function writtenOrder(passes: readonly number[]): WrittenOrder {
  const visits = new Map<number, number[]>();
  passes.forEach((first, at) => visits.set(first, [...(visits.get(first) ?? []), at]));
  const order = [...visits.keys()].sort((a, b) => a - b);
  const number = new Map(order.map((first, at) => [first, at]));
  const at = passes.map((first) => number.get(first) as number);
  const edges = new Map<string, Edge & { made: number[] }>();
  at.slice(1).forEach((to, before) => {
    const from = at[before] as number;
    const key = `${from} ${to}`;
    const edge = edges.get(key) ?? { from, to, made: [] };
    edge.made.push(before);
    edges.set(key, edge);
  });
  return { at, visits: order.map((first) => visits.get(first) ?? []), edges: [...edges.values()] };
}

/** The seams of an order, and by stage but the last the move to the next one. */
export function chainAndSeams({ visits, edges }: WrittenOrder): { chain: Edge[]; seams: Edge[] } {
  const isChain = ({ from, to }: Edge): boolean => to === from + 1;
  const chain = visits
    .slice(1)
    .map((_, from): Edge => ({ from, to: from + 1, made: [] }))
    .map((none) => edges.find((edge) => isChain(edge) && edge.from === none.from) ?? none);
  return { chain, seams: edges.filter((edge) => !isChain(edge)) };
}

/** Prices of the hand and the voices, so often. */
export const oftenPicked = (costs: MoveCosts, often: number) => ({
  picking: costs.picking.map((price) => price * often),
  voices: costs.voices.map((price) => price * often),
});

/** Other prices of a move, as often as it is made; nothing where they are the usual ones. */
export function jointAsOften(joints: WaysQuestion['joints'], { made }: Edge): Joint | undefined {
  if (joints === undefined) return undefined;
  const often = new Map<Joint, number>();
  for (const before of made) {
    const joint = joints[before] as Joint;
    often.set(joint, (often.get(joint) ?? 0) + 1);
  }
  const all = [...often];
  const [[joint, each] = [undefined, 0]] = all;
  if (joint !== undefined && all.length === 1 && each === 1) return joint;
  return {
    price: (from, to) => all.reduce((sum, [one, times]) => sum + times * one.price(from, to), 0),
  };
}

/** Chords as they are written, with what is left of each in all its passes. */
export function stagesTogether(
  { stages }: WaysQuestion,
  { visits }: WrittenOrder,
): readonly { readonly stage: Stage; readonly efforts: ReadonlyMap<number, number> }[] {
  return visits.map((own) => together(own.map((at) => stages[at] as Stage)));
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

/** A stage with other efforts. */
export const withEffort = (stage: Stage, effort: (candidate: number) => number): Stage => ({
  ...stage,
  effort: stage.effort.map((_, candidate) => effort(candidate)),
});
