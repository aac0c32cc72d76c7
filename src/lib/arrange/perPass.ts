/**
 * The chords of a piece as they are written, where every pass may have something else that stays although nothing
 * needs it: a control that is held over the end of a pass into the next one stays there only then. So a candidate of a
 * written chord is a voicing with what stays in each of its passes. Where a move of a pass has nothing from
 * before that could stay, or nothing after it that needs it, nothing does, so that few chords have more than one such row.
 */
import type { Position } from '$lib/engine/layer';
import { laidOut } from '$lib/engine/narrowed';
import { canStay } from './asHeld';
import {
  chainAndSeams,
  jointAsOften,
  oftenPicked,
  type Edge,
  type Written,
  type WrittenOrder,
} from './asWritten';
import type { WaysQuestion } from './bestWays';
import type { Coded, MoveCosts } from './moveCosts';
import type { Joint } from './onward';
import type { Stage } from './stage';
import { usefulHolds } from './usefulHolds';

/** What coming to something that stays costs where nothing was engaged to stay: more than it can ever save. */
const NOT_THERE = 2 ** 20;

/** Rows of one position that are looked at one by one; beyond that, rows in which one pass alone or all have something. */
const MOST_ROWS = 128;

/** A position with what stays in each pass: by visit, its number among all that is held there. */
interface PassPosition extends Position {
  readonly rows: Int32Array;
}

/** Positions as the prices of passes know them. */
interface PassCoded extends Coded {
  readonly rows: readonly Int32Array[];
}

/** Chords as written with rows for their passes. */
export interface PerPass {
  readonly written: Written;
  /** By stage, by candidate: which it is of the whole layer. */
  readonly candidates: readonly Int32Array[];
  /** All rows were looked at. */
  readonly isWhole: boolean;
}

/** Every choice of one from each list; where these are too many, those with one that is not the first, or all alike. */
function choices(lists: readonly (readonly number[])[]): { all: number[][]; isWhole: boolean } {
  const many = lists.reduce((product, { length }) => product * length, 1);
  if (many <= MOST_ROWS) {
    let all: number[][] = [[]];
    for (const list of lists) all = all.flatMap((before) => list.map((each) => [...before, each]));
    return { all, isWhole: true };
  }
  const first = lists.map(([plain]) => plain as number);
  const single = lists.flatMap((list, at) => list.slice(1).map((each) => first.with(at, each)));
  const alike = [...new Set(lists.flatMap((list) => list.slice(1)))].map((each) =>
    lists.map((list) => (list.includes(each) ? each : (list[0] as number))),
  );
  return { all: [first, ...single, ...alike], isWhole: false };
}

/** A written chord with rows for its passes; `use` by visit. */
function withRows(
  stage: Stage,
  efforts: ReadonlyMap<number, number>,
  use: readonly Uint8Array[],
): { stage: Stage; was: Int32Array; isWhole: boolean } {
  const was: number[] = [];
  const position: number[] = [];
  const positions: PassPosition[] = [];
  let isWhole = true;
  stage.layer.positions.forEach((place, at) => {
    const lists = use.map((own) => [
      at,
      ...(stage.staying[at] ?? []).filter((held) => own[held] === 1),
    ]);
    const chosen = choices(lists);
    isWhole &&= chosen.isWhole;
    for (const row of chosen.all) {
      const idle = [...new Set(row)].filter((held) => held !== at);
      const own = [...(stage.members[at] as Int32Array)].filter((candidate) =>
        idle.every((held) => stage.members[held]?.includes(candidate)),
      );
      if (own.length === 0) continue;
      for (const candidate of own) {
        was.push(candidate);
        position.push(positions.length);
      }
      positions.push({ ...place, rows: Int32Array.from(row) });
    }
  });
  const from = Int32Array.from(was);
  const layer = laidOut(stage.layer, from, Uint16Array.from(position), positions);
  const { members } = layer;
  return {
    was: from.map((candidate) => stage.same[candidate] as number),
    isWhole,
    stage: {
      ...{ layer, members },
      whole: stage.whole,
      // nothing stays here but what the rows say
      necks: new Map(),
      effort: from.map((candidate) => efforts.get(stage.same[candidate] as number) ?? 0),
      held: positions.map((each) => ({ ...each, needs: each.engaged, idle: '' })),
      staying: positions.map(() => []),
      plainly: Int32Array.from(positions.keys()),
      same: Int32Array.from(from.keys()),
      place: from,
    },
  };
}

/** The prices of one move, as often as it is made, each time with what stays then. */
function passPrices(
  { times, costs }: WaysQuestion,
  { visits }: WrittenOrder,
  { from, to, made }: Edge,
  stages: readonly Stage[],
  codesOf: MoveCosts['codesOf'],
): MoveCosts {
  const [source, goal] = [stages[from] as Stage, stages[to] as Stage];
  const [before, after] = [costs.codesOf(source), costs.codesOf(goal)];
  const all = Int32Array.from(goal.held.keys());
  const known = new Map<number, Int32Array[]>();
  const each = made.map((time) => {
    const seconds = times[time] ?? 1;
    const prices = known.get(seconds) ?? [];
    known.set(seconds, prices);
    return {
      ...{ seconds, prices },
      one: visits[from]?.indexOf(time) as number,
      other: visits[to]?.indexOf(time + 1) as number,
    };
  });
  const pricesFrom = (held: number, seconds: number, prices: Int32Array[]): Int32Array => {
    const there = prices[held];
    if (there !== undefined) return there;
    const own = new Int32Array(all.length);
    costs.pricesTo(before, held, after, all, all.length, seconds, own);
    for (const next of all)
      if (!canStay(before, held, after, next)) own[next] = (own[next] as number) + NOT_THERE;
    return (prices[held] = own);
  };
  return {
    ...costs,
    codesOf,
    pricesTo(left, position, right, which, many, _seconds, into) {
      const row = (left as PassCoded).rows[position] as Int32Array;
      for (let i = 0; i < many; i++) into[which[i] as number] = 0;
      for (const { seconds, prices, one, other } of each) {
        const own = pricesFrom(row[one] as number, seconds, prices);
        for (let i = 0; i < many; i++) {
          const q = which[i] as number;
          const next = (right as PassCoded).rows[q] as Int32Array;
          into[q] = (into[q] as number) + (own[next[other] as number] as number);
        }
      }
    },
    ...oftenPicked(costs, made.length),
  };
}

/** By what is held, for as long as a search goes on. */
function passCodes(): MoveCosts['codesOf'] {
  const known = new WeakMap<Stage['held'], PassCoded>();
  return ({ held, layer, whole }) => {
    const there = known.get(held);
    if (there !== undefined) return there;
    const none = new Int32Array(held.length);
    const codes: PassCoded = {
      whole,
      ...{ engaged: none, needs: none, bar: none },
      idle: new Int32Array(held.length).fill(-1),
      controls: [],
      needing: new Map(),
      rows: layer.positions.map((position) => (position as PassPosition).rows),
    };
    known.set(held, codes);
    return codes;
  };
}

/**
 * The chords as they are written, with rows for their passes.
 *
 * @param all the chords as written, with what is left of each and its efforts in all passes
 */
export function writtenPerPass(
  question: WaysQuestion,
  order: WrittenOrder,
  all: readonly { readonly stage: Stage; readonly efforts: ReadonlyMap<number, number> }[],
): PerPass {
  const { costs, apart = 'voicings' } = question;
  const stages = all.map(({ stage }) => stage);
  const use = usefulHolds(
    order,
    stages,
    stages.map((stage) => costs.codesOf(stage)),
  );
  const made = all.map(({ stage, efforts }, at) =>
    withRows(
      stage,
      efforts,
      (order.visits[at] ?? []).map((time) => use[time] as Uint8Array),
    ),
  );
  const { chain, seams } = chainAndSeams(order);
  const codesOf = passCodes();
  const candidates = made.map(({ was }) => was);
  const pricesOf = (edge: Edge): MoveCosts => passPrices(question, order, edge, stages, codesOf);
  const jointOf = (edge: Edge): Joint | undefined => {
    const joint = jointAsOften(question.joints, edge);
    if (joint === undefined) return undefined;
    const [from, to] = [candidates[edge.from] as Int32Array, candidates[edge.to] as Int32Array];
    return { price: (one, other) => joint.price(from[one] as number, to[other] as number) };
  };
  return {
    candidates,
    isWhole: made.every(({ isWhole }) => isWhole),
    written: {
      // ways that differ in what stays are one
      stages: made.map(({ stage, was }, at) => ({
        ...stage,
        place:
          apart === 'voicings' ? was : stage.place.map((base) => stages[at]?.place[base] as number),
      })),
      costs: { ...costs, codesOf },
      moves: chain.map(pricesOf),
      ...(question.joints === undefined ? {} : { joints: chain.map(jointOf) as Joint[] }),
      weights: chain.map((edge) => edge.made.length),
      seams: seams.map((edge) => ({
        ...{ from: edge.from, to: edge.to, costs: pricesOf(edge), joint: jointOf(edge) },
      })),
      goals: [...new Set(seams.map(({ to }) => to))],
      apart: 'positions',
    },
  };
}
