/**
 * The exact k best ways through stages of candidates.
 *
 * The cost of a way is the sum of its candidates' efforts and of the moves between neighbours, all in
 * whole thousandths. A first pass goes backward and finds for every candidate of every stage the least
 * cost of what comes after it (`onward.ts`). A second goes forward and lays ways out in the order of cost.
 *
 * Ways are told apart by *places*: the candidates of the layers, whatever stays engaged besides; or, where
 * near-copies are to count as one, the positions of the bar and of what is needed. A beginning is a list of
 * places and stands for all ways that begin so: for each candidate of its last place it keeps the least cost
 * of coming there. `rest` being exact, its bound is the cost of the best of them, and a beginning whose bound
 * is not below those of k others that are different cannot be among the first k. Beginnings with equal bounds
 * are compared by their places' numbers, first to last; none begins another, since a beginning is replaced
 * by its continuations. So the k that are chosen are the first k in the order (cost, then places), and that
 * order is total.
 */
import { NEVER, changedBits, semitonesBetween, type MoveCosts } from './moveCosts';
import { aheadBy, lastAhead } from './backward';
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
}

/** What counts as one way: the same candidates, or the same positions. */
export type Apart = 'voicings' | 'positions';

export interface WaysQuestion {
  readonly stages: readonly Stage[];
  readonly costs: MoveCosts;
  /** By stage but the last: seconds from its beginning to that of the next. */
  readonly times: readonly number[];
  /** By stage but the last: other prices between its candidates and those of the next; the usual where left out. */
  readonly joints?: readonly Joint[];
  /** Where the bar is before the first chord. */
  readonly home?: number | undefined;
  /** How many, at least 1. */
  readonly most: number;
  /** What tells ways apart; voicings where left out. */
  readonly apart?: Apart;
}

/** The order of ways: by cost, then by the numbers of their places, first to last. */
export function compareWays(
  a: Pick<FoundWay, 'cost' | 'places'>,
  b: Pick<FoundWay, 'cost' | 'places'>,
): number {
  if (a.cost !== b.cost) return a.cost - b.cost;
  const length = Math.min(a.places.length, b.places.length);
  for (let i = 0; i < length; i++) {
    const apart = (a.places[i] as number) - (b.places[i] as number);
    if (apart !== 0) return apart;
  }
  return 0;
}

/** A candidate of a stage at a position, with the least cost of coming there. */
interface Reached {
  readonly position: number;
  readonly candidate: number;
  /** Moves and efforts up to here: in a beginning with its own effort, gathered still without. */
  so: number;
  from: Reached | undefined;
}

/** A beginning of ways. */
interface Beginning {
  /** Of the best way that begins so. */
  readonly cost: number;
  readonly places: Int32Array;
  /** The candidates of its last place that can still count. */
  readonly last: readonly Reached[];
}

/** The first few beginnings in the order of ways. */
class Open {
  readonly first: Beginning[] = [];
  room: number;

  constructor(room: number) {
    this.room = room;
  }

  /** A bound above which nothing is taken in. */
  get limit(): number {
    return this.first.length < this.room
      ? NEVER - 1
      : (this.first[this.room - 1]?.cost ?? -Infinity);
  }

  /**
   * The same while one that was taken is replaced by its continuations: the best of them costs as much as
   * it did.
   */
  limitWith(taken: Beginning): number {
    if (this.first.length < this.room - 1) return NEVER - 1;
    return this.first[this.room - 2]?.cost ?? taken.cost;
  }

  add(one: Beginning): void {
    let [low, high] = [0, this.first.length];
    while (low < high) {
      const middle = (low + high) >> 1;
      if (compareWays(this.first[middle] as Beginning, one) <= 0) low = middle + 1;
      else high = middle;
    }
    if (low >= this.room) return;
    this.first.splice(low, 0, one);
    if (this.first.length > this.room) this.first.pop();
  }

  /** The first; there is room for one less then, for this one will be a whole way. */
  take(): Beginning | undefined {
    return this.first.shift();
  }
}

/** What was worked out before of a stage and the one after it. */
interface Solved {
  readonly time: number | undefined;
  readonly joint: Joint | undefined;
  readonly next: Ahead;
  readonly ahead: Ahead;
}

/**
 * The backward pass: every stage as the one before it sees it, and the moves from it to the next; `slack` as
 * in `aheadBy`. Pieces come back to what they had: where all that comes after a stage costs just so much
 * more than it did before a like one, so does all that comes from the stage on.
 */
function aheadOfAll(
  { stages, costs, times, joints }: WaysQuestion,
  slack?: number,
): {
  readonly ahead: readonly Ahead[];
  readonly passages: readonly Passage[];
} {
  const ahead: Ahead[] = [];
  const passages: Passage[] = [];
  const kinship = joints === undefined ? new Kinship(stages, costs) : undefined;
  const solved = new Map<Stage, Solved[]>();
  for (let at = stages.length - 1; at >= 0; at--) {
    const stage = stages[at] as Stage;
    const next = ahead[at + 1];
    if (next === undefined) {
      ahead[at] = lastAhead(stage, costs);
      continue;
    }
    const [time, joint] = [times[at], joints?.[at]];
    const codes = costs.codesOf(stage);
    const passage = new Passage(stage, codes, next, costs, time ?? 1, joint);
    passages[at] = passage;
    const before = solved.get(stage) ?? [];
    let now: Ahead | undefined;
    for (const each of before) {
      if (each.time !== time || each.joint !== joint) continue;
      const more = dearerBy(each.next, next);
      if (more === undefined) continue;
      now = dearer(each.ahead, more);
      break;
    }
    now ??= aheadBy(passage, slack, kinship);
    before.push({ time, joint, next, ahead: now });
    solved.set(stage, before);
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

/**
 * By how much the last of a few ways is dearer than the best, mostly, in thousandths: the longer a piece, the
 * less. Where it is more the search is done again.
 */
const USUAL_SLACK = 400;

/** The best ways in their order; fewer where there are no more; none where a stage is empty. */
export function bestWays(question: WaysQuestion): FoundWay[] {
  const { stages } = question;
  if (stages.length === 0 || stages.some(({ layer }) => layer.count === 0)) return [];
  const { most } = question;
  if (most === 1) return waysWithin(question);
  const found = waysWithin(question, USUAL_SLACK);
  const [best] = found;
  const last = found.at(-1);
  if (best === undefined || last === undefined) return [];
  // the last of as many ways as are asked for costs no less than the last of the best
  const slack = found.length < most ? NEVER / 2 : last.cost - best.cost;
  return slack <= USUAL_SLACK ? found : waysWithin(question, slack);
}

/** The best ways, those after the first exact if they are dearer than it by no more than `slack`. */
function waysWithin(question: WaysQuestion, slack?: number): FoundWay[] {
  const { stages, most, apart = 'voicings' } = question;
  const { ahead, passages } = aheadOfAll(question, slack);
  const ways: FoundWay[] = [];
  const open = new Open(most);
  const start = new Gathered(ahead[0] as Ahead, apart);
  arrivals(question).forEach((price, position) => {
    start.addAll(position, price, open.limit);
  });
  start.handOver(undefined, open);
  for (let one = open.take(); one !== undefined; one = open.take()) {
    const depth = one.places.length;
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

/** Candidates of a stage that a beginning leads to, each with the least cost of coming there. */
class Gathered {
  readonly ahead: Ahead;
  readonly #apart: Apart;
  readonly #reached = new Map<number, Reached & { onward: number }>();

  constructor(ahead: Ahead, apart: Apart) {
    this.ahead = ahead;
    this.#apart = apart;
  }

  /** A candidate that is come to for so much, without its own effort. */
  add(position: number, row: number, so: number, from: Reached | undefined): void {
    const candidate = this.ahead.candidates[row] as number;
    const key = position * CANDIDATES + candidate;
    const known = this.#reached.get(key);
    if (known === undefined) {
      const onward = this.ahead.onward[row] as number;
      this.#reached.set(key, { position, candidate, so, from, onward });
    } else if (so < known.so) [known.so, known.from] = [so, from];
  }

  /** All candidates of a position, each come to for the same. */
  addAll(position: number, so: number, limit: number): void {
    const { begin, end, onward } = this.ahead;
    for (let row = begin[position] as number; row < (end[position] as number); row++)
      if (so + (onward[row] as number) <= limit) this.add(position, row, so, undefined);
  }

  /** Adds a beginning for every place. */
  handOver(before: Beginning | undefined, open: Open): void {
    const { stage } = this.ahead;
    const placeOf = this.#apart === 'positions' ? stage.place : stage.same;
    const byPlace = new Map<number, { cost: number; last: Reached[] }>();
    for (const reached of this.#reached.values()) {
      const place = placeOf[reached.candidate] as number;
      const cost = reached.so + reached.onward;
      reached.so += stage.effort[reached.candidate] as number;
      const there = byPlace.get(place);
      if (there === undefined) byPlace.set(place, { cost, last: [reached] });
      else {
        there.cost = Math.min(there.cost, cost);
        there.last.push(reached);
      }
    }
    for (const [place, { cost, last }] of byPlace) {
      if (cost > open.limit) continue;
      const places = new Int32Array((before?.places.length ?? 0) + 1);
      if (before !== undefined) places.set(before.places);
      places[places.length - 1] = place;
      open.add({ cost, places, last });
    }
  }
}

/** Above the number of candidates of any layer. */
const CANDIDATES = 2 ** 24;

/** Gathers every continuation of a beginning by one candidate that can still count. */
function continueFrom(one: Beginning, passage: Passage, into: Gathered, limit: number): void {
  const { from: stage, ahead, costs, joint } = passage;
  const next = ahead.stage.layer;
  const { onward, candidates, begin, end, least, prices } = ahead;
  for (const reached of one.last) {
    const { position, candidate, so } = reached;
    passage.price(position);
    const { following: which, many } = passage;
    const neck = stage.held[position]?.neck;
    const grip = stage.layer.grip[candidate] as number;
    for (let i = 0; i < many; i++) {
      const q = which[i] as number;
      const base = so + (prices[q] as number);
      if (base + (least[q] as number) > limit) continue;
      const sameNeck = ahead.stage.held[q]?.neck === neck;
      for (let row = begin[q] as number; row < (end[q] as number); row++) {
        const all = base + (onward[row] as number);
        if (all > limit) break;
        const c = candidates[row] as number;
        const move =
          joint?.price(candidate, c) ??
          (costs.picking[changedBits(grip, next.grip[c] as number, sameNeck)] as number) +
            (costs.voices[semitonesBetween(stage.layer, candidate, next, c)] as number);
        if (all + move <= limit) into.add(q, row, base + move, reached);
      }
    }
  }
}
