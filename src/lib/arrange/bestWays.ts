/**
 * The exact k best ways through stages of candidates.
 *
 * The cost of a way is the sum of its candidates' efforts and of the moves between neighbours, all in
 * whole thousandths. A first pass goes backward and finds for every candidate of every stage the least
 * cost of what comes after it (`onward.ts`). A second goes forward and lays ways out in the order of cost.
 *
 * Ways are told apart by *places*: the candidates of the layers, whatever stays engaged besides; or, where
 * near-copies are to count as one, the positions of the bar and of what is needed.
 */
import { NEVER, type MoveCosts } from './moveCosts';
import { bestAlike } from './alike';
import { aheadBy, lastAhead } from './backward';
import {
  Gathered,
  Open,
  continueFrom,
  type Apart,
  type Beginning,
  type Reached,
} from './beginnings';
import { Kinship } from './kinship';
import { Passage, dearer, dearerBy, type Ahead, type Joint } from './onward';
import type { Stage } from './stage';

export interface FoundWay {
  /** In thousandths. */
  readonly cost: number;
  /** By stage: the place. */
  readonly places: Int32Array;
  /** By stage: the candidate, by its number in the whole layer. */
  readonly candidates: Int32Array;
  /** By stage: the control that stays although nothing needs it; empty where none does. */
  readonly idle: readonly string[];
  /** In thousandths: by so much at most it may be dearer than one that was not found; nothing where none is. */
  readonly short?: number;
}

export interface WaysQuestion {
  readonly stages: readonly Stage[];
  readonly costs: MoveCosts;
  /** By stage but the last: seconds from its beginning to that of the next. */
  readonly times: readonly number[];
  /** By stage but the last: what moves to the next one cost, where that is not the same all over. */
  readonly moves?: readonly MoveCosts[];
  /** By stage but the last: how often a move there costs what `costs` say, at most; 1 where left out. */
  readonly weights?: readonly number[];
  /** What was worked out for questions with the same moves; nothing where left out. */
  readonly known?: Known;
  /** By stage: the number of the first one that is the same chord as written; each is its own where left out. */
  readonly passes?: readonly number[] | undefined;
  /** By stage but the last: other prices between its candidates and those of the next; the usual where left out. */
  readonly joints?: readonly Joint[];
  /** Where the bar is before the first chord. */
  readonly home?: number | undefined;
  /** How many, at least 1. */
  readonly most: number;
  /** No way is wanted that costs more, in thousandths; any where left out. Of questions for the best way alone. */
  readonly atMost?: number | undefined;
  /** What tells ways apart; voicings where left out. */
  readonly apart?: Apart;
}

/** What was worked out of stages before. */
export type Known = Map<Stage, Solved[]>;

/** What was worked out before of a stage and the one after it. */
interface Solved {
  readonly slack: number | undefined;
  readonly weight: number;
  readonly time: number | undefined;
  readonly moves: MoveCosts | undefined;
  readonly joint: Joint | undefined;
  readonly next: Ahead;
  readonly ahead: Ahead;
}

/**
 * The backward pass: every stage as the one before it sees it, and the moves from it to the next; `slack` as
 * in `aheadBy`. Pieces come back to what they had: where all that comes after a stage costs just so much
 * more than it did before a like one, so does all that comes from the stage on. It ends where that is too dear.
 */
function aheadOfAll(
  { stages, costs, moves, weights, known, times, joints, atMost }: WaysQuestion,
  slack?: number,
): {
  readonly ahead: readonly Ahead[];
  readonly passages: readonly Passage[];
} {
  const ahead: Ahead[] = [];
  const passages: Passage[] = [];
  const kin = new Map<number, Kinship>();
  const kinshipUnder = (weight: number): Kinship => {
    const found = kin.get(weight) ?? new Kinship(stages, costs, weight);
    kin.set(weight, found);
    return found;
  };
  const solved: Known = known ?? new Map<Stage, Solved[]>();
  for (let at = stages.length - 1; at >= 0; at--) {
    const stage = stages[at] as Stage;
    const next = ahead[at + 1];
    if (next === undefined) {
      ahead[at] = lastAhead(stage, costs);
      continue;
    }
    const [time, joint] = [times[at], joints?.[at]];
    const weight = weights?.[at - 1] ?? 1;
    const codes = costs.codesOf(stage);
    const passage = new Passage(stage, codes, next, moves?.[at] ?? costs, time ?? 1, joint);
    passages[at] = passage;
    const before = solved.get(stage) ?? [];
    let now: Ahead | undefined;
    for (const each of before) {
      if (each.time !== time || each.joint !== joint || each.moves !== moves?.[at]) continue;
      if (each.slack !== slack || each.weight !== weight) continue;
      const more = dearerBy(each.next, next);
      if (more === undefined) continue;
      now = dearer(each.ahead, more);
      break;
    }
    now ??= aheadBy(passage, slack, joint === undefined ? kinshipUnder(weight) : undefined);
    before.push({ slack, weight, time, moves: moves?.[at], joint, next, ahead: now });
    solved.set(stage, before);
    if (atMost !== undefined && isBeyond(now, atMost)) break;
    ahead[at] = now;
  }
  return { ahead, passages };
}

/** By position of the first stage where nothing stays: what engaging and bringing the bar there costs. */
const arrivals = ({ stages: [first], costs, home }: WaysQuestion): readonly number[] =>
  (first?.layer.positions ?? []).map((position) => costs.arrival(position, home));

/** By candidate of the first stage: the cost of the best way that begins with it; `NEVER` where one of its position is better. */
export function leastFrom(question: WaysQuestion): Int32Array {
  const least = new Int32Array(question.stages[0]?.layer.count ?? 0).fill(NEVER);
  const start = aheadOfAll(question).ahead[0];
  arrivals(question).forEach((price, position) => {
    if (start === undefined) return;
    for (let row = start.begin[position] as number; row < (start.end[position] as number); row++)
      least[start.candidates[row] as number] = price + (start.onward[row] as number);
  });
  return least;
}

/** What the best way costs; and by stage, by candidates of the whole layer, what the best way through each does. */
export interface Through {
  readonly least: number;
  /** Those alone that some way goes through which is dearer than the best by no more than was asked. */
  readonly through: readonly ReadonlyMap<number, number>[];
}

/** What ways through candidates cost, as far as they are dearer than the best by no more than `slack`. */
export function throughWithin(question: WaysQuestion, slack: number): Through {
  const { ahead, passages } = aheadOfAll(question, slack);
  const prices = arrivals(question);
  const first = ahead[0] as Ahead;
  const least = prices.reduce(
    (best, price, position) => Math.min(best, price + (first.least[position] as number)),
    NEVER,
  );
  const limit = least + slack;
  let reached: Beginning | undefined;
  const through = question.stages.map((_, depth) => {
    const into = new Gathered(ahead[depth] as Ahead, 'voicings');
    if (reached === undefined)
      prices.forEach((price, position) => {
        into.addAll(position, price, limit);
      });
    else continueFrom(reached, passages[depth - 1] as Passage, into, limit);
    const costs = into.through();
    reached = into.together();
    return costs;
  });
  return { least, through };
}

/**
 * By how much the last of a few ways is dearer than the best, mostly, in thousandths: the longer a piece, the
 * less. Where it is more the search is done again.
 */
const USUAL_SLACK = 400;

/** The best ways in their order; fewer where there are no more; none where a stage is empty. */
export function bestWays(question: WaysQuestion): FoundWay[] {
  const { stages } = question;
  if (stages.length === 0 || stages.some(({ layer }) => layer.count === 0)) return [];
  const { most, passes } = question;
  if (passes?.some((first, at) => first !== at) === true) return bestAlike(question, bestWays);
  if (most === 1) return waysWithin(question);
  const found = waysWithin(question, USUAL_SLACK);
  const [best] = found;
  const last = found.at(-1);
  if (best === undefined || last === undefined) return [];
  // the last of as many ways as are asked for costs no less than the last of the best
  const slack = found.length < most ? NEVER / 2 : last.cost - best.cost;
  return slack <= USUAL_SLACK ? found : waysWithin(question, slack);
}

/** What comes from a stage on costs more than a limit, however it is come to. */
const isBeyond = ({ least }: Ahead, limit: number): boolean => {
  for (const each of least) if (each <= limit) return false;
  return true;
};

/** The best ways, those after the first exact if they are dearer than it by no more than `slack`. */
function waysWithin(question: WaysQuestion, slack?: number): FoundWay[] {
  const { stages, most, apart = 'voicings', atMost = NEVER } = question;
  const { ahead, passages } = aheadOfAll(question, slack);
  if (ahead[0] === undefined) return [];
  const ways: FoundWay[] = [];
  const open = new Open(most);
  const start = new Gathered(ahead[0], apart);
  arrivals(question).forEach((price, position) => {
    start.addAll(position, price, open.limit);
  });
  start.handOver(undefined, open);
  for (let one = open.take(); one !== undefined; one = open.take()) {
    const depth = one.places.length;
    if (one.cost > atMost) break;
    if (depth === stages.length) {
      ways.push(wholeWay(one, stages));
      open.room--;
      continue;
    }
    const into = new Gathered(ahead[depth] as Ahead, apart);
    continueFrom(one, passages[depth - 1] as Passage, into, open.limitWith(one));
    into.handOver(one, open);
  }
  return ways;
}

/** The best way of a beginning that is whole. */
function wholeWay({ cost, places, last }: Beginning, stages: readonly Stage[]): FoundWay {
  const candidates = new Int32Array(places.length);
  const idle: string[] = [];
  // of ways that cost the same, one that lets go
  let at = last.reduce<Reached | undefined>(
    (best, each) => (best !== undefined && best.so <= each.so ? best : each),
    undefined,
  );
  for (let depth = places.length - 1; at !== undefined; depth--, at = at.from) {
    const stage = stages[depth] as Stage;
    candidates[depth] = stage.same[at.candidate] as number;
    idle[depth] = stage.held[at.position]?.idle ?? '';
  }
  return { cost, places, candidates, idle };
}
