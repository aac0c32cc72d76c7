/**
 * The exact k best ways through layers of candidates.
 *
 * The cost of a way is the sum of its candidates' efforts and of the moves between neighbours, all in
 * whole thousandths. A first pass goes backward and finds for every candidate of every layer the least
 * cost of what comes after it, `rest`. A second goes forward and lays ways out in the order of cost.
 *
 * Nothing is thrown away before the search; two things are passed over in it, neither of which can
 * change the answer:
 *
 * 1. In the backward pass the least of `move + effort + rest` is sought over the next layer. A move is
 *    the price between two positions (bar and feet) plus two prices that are never negative (picking,
 *    voices). So for a candidate c of position q, `between(p, q) + effort(c) + rest(c)` is a lower bound
 *    of what c can give, and the least of these over q's candidates is one of what q can give. Positions
 *    come in the order of their bounds and candidates in that of theirs; once a bound reaches the least
 *    sum found, everything after it is at least as much, and a minimum does not change by leaving out
 *    what is not below it.
 * 2. In the forward pass a beginning of a way stands for all ways that begin so. `rest` being exact, its
 *    bound is the cost of the best of them, and a beginning whose bound is not below those of k others
 *    that are different ways cannot be among the first k. Beginnings with equal bounds are compared by
 *    their candidates' numbers, first to last; none begins another, since a beginning is replaced by its
 *    continuations. So the k that are chosen are the first k in the order (cost, then candidates), and that
 *    order is total.
 */
import { STRIDE, type Layer } from '$lib/engine/layer';
import { changedBits, semitonesBetween, type MoveCosts } from './moveCosts';

export interface FoundWay {
  /** In thousandths. */
  readonly cost: number;
  /** By layer: the candidate. */
  readonly candidates: Int32Array;
}

export interface WaysQuestion {
  readonly layers: readonly Layer[];
  readonly costs: MoveCosts;
  /** Where the bar is before the first chord. */
  readonly home?: number | undefined;
  /** How many, at least 1. */
  readonly most: number;
}

/** The order of ways: by cost, then by the numbers of their candidates, first to last. */
export function compareWays(a: FoundWay, b: FoundWay): number {
  if (a.cost !== b.cost) return a.cost - b.cost;
  const length = Math.min(a.candidates.length, b.candidates.length);
  for (let i = 0; i < length; i++) {
    const apart = (a.candidates[i] as number) - (b.candidates[i] as number);
    if (apart !== 0) return apart;
  }
  return 0;
}

/** A layer as the one before it sees it. */
interface Ahead {
  readonly layer: Layer;
  /** By candidate: effort and all that follows. */
  readonly onward: Int32Array;
  /** By position: its candidates, least `onward` first. */
  readonly members: readonly Int32Array[];
  /** By position: the least `onward`. */
  readonly least: Int32Array;
}

function aheadOf(layer: Layer, rest: Int32Array): Ahead {
  const onward = new Int32Array(layer.count);
  for (let c = 0; c < layer.count; c++)
    onward[c] = (layer.effort[c] as number) + (rest[c] as number);
  const members = layer.members.map((each) => sorted(each, onward));
  const least = Int32Array.from(members, (each) => onward[each[0] as number] as number);
  return { layer, onward, members, least };
}

/** Sorted by insertion: a position has few candidates, and they are almost in order by their effort. */
function sorted(candidates: Int32Array, cost: Int32Array): Int32Array {
  const order = candidates.slice();
  for (let i = 1; i < order.length; i++) {
    const moving = order[i] as number;
    const price = cost[moving] as number;
    let to = i;
    for (; to > 0 && (cost[order[to - 1] as number] as number) > price; to--)
      order[to] = order[to - 1] as number;
    order[to] = moving;
  }
  return order;
}

/** Above every cost of a way. */
const MOST = 2 ** 31 - 1;

/** By position of the next layer: the price of bar and feet to it. */
const pricesFrom = (layer: Layer, position: number, ahead: Ahead, costs: MoveCosts): Int32Array => {
  const from = layer.positions[position];
  if (from === undefined) throw new Error(`position ${position} of ${layer.positions.length}`);
  return costs.pricesTo(from, ahead.layer.positions);
};

/** By candidate: the least cost of all moves and efforts after it. */
function restBefore(layer: Layer, ahead: Ahead, costs: MoveCosts): Int32Array {
  const rest = new Int32Array(layer.count);
  const { layer: next, least } = ahead;
  const bounds = new Int32Array(next.positions.length);
  layer.members.forEach((own, position) => {
    const prices = pricesFrom(layer, position, ahead, costs);
    let nearest = 0;
    for (let q = 0; q < bounds.length; q++) {
      const bound = (prices[q] as number) + (least[q] as number);
      bounds[q] = bound;
      if (bound < (bounds[nearest] as number)) nearest = q;
    }
    const search = new Search(layer, ahead, costs, layer.positions[position]?.neck ?? 0, prices);
    // A first sum for each: from the position with the least bound, and from where the candidate
    // before it went best, for neighbours mostly go on alike.
    let most = 0;
    let likely = nearest;
    for (let o = 0; o < own.length; o++) {
      const candidate = own[o] as number;
      let best = search.least(candidate, nearest, MOST);
      if (likely !== nearest && (bounds[likely] as number) < best)
        best = search.least(candidate, likely, best);
      likely = next.position[search.where] as number;
      rest[candidate] = best;
      if (best > most) most = best;
    }
    const order = inOrder(bounds, bounds[nearest] as number, most);
    for (let o = 0; o < own.length; o++) {
      const candidate = own[o] as number;
      let best = rest[candidate] as number;
      for (let i = 0; i < order.length; i++) {
        const q = (order[i] as number) & (POSITIONS - 1);
        if ((bounds[q] as number) >= best) break;
        best = search.least(candidate, q, best);
      }
      rest[candidate] = best;
    }
  });
  return rest;
}

const POSITIONS = 2 ** 12;

/**
 * The positions whose bounds are below a limit, least first, each in the lower twelve bits of a number;
 * the bound above the least one stands over them, so that a sort of numbers is enough.
 */
function inOrder(bounds: Int32Array, least: number, limit: number): Float64Array {
  const keys: number[] = [];
  for (let q = 0; q < bounds.length; q++) {
    const bound = bounds[q] as number;
    if (bound < limit) keys.push((bound - least) * POSITIONS + q);
  }
  return Float64Array.from(keys).sort();
}

/** The search for the best continuation of the candidates of one position. */
class Search {
  readonly layer: Layer;
  readonly ahead: Ahead;
  readonly costs: MoveCosts;
  readonly neck: number;
  readonly prices: Int32Array;
  /** The candidate of the next layer that gave the last improvement. */
  where = 0;

  constructor(layer: Layer, ahead: Ahead, costs: MoveCosts, neck: number, prices: Int32Array) {
    this.layer = layer;
    this.ahead = ahead;
    this.costs = costs;
    this.neck = neck;
    this.prices = prices;
  }

  /** The least cost of going on from a candidate to one of a position, or `best` if that is less. */
  least(candidate: number, q: number, best: number): number {
    const { layer } = this;
    const { layer: next, onward } = this.ahead;
    const { picking, voices } = this.costs;
    const { grip: grips, pitches, top: tops } = next;
    const price = this.prices[q] as number;
    const sameNeck = next.positions[q]?.neck === this.neck;
    const grip = layer.grip[candidate] as number;
    const bottom = layer.pitches[candidate * STRIDE] as number;
    const top = layer.top[candidate] as number;
    const there = this.ahead.members[q] as Int32Array;
    for (let m = 0; m < there.length; m++) {
      const c = there[m] as number;
      let sum = price + (onward[c] as number);
      if (sum >= best) break;
      sum += picking[changedBits(grip, grips[c] as number, sameNeck)] as number;
      // the outer voices go at least to the outer ones, so they alone give a lower bound
      const outer =
        Math.abs(bottom - (pitches[c * STRIDE] as number)) + Math.abs(top - (tops[c] as number));
      if (sum + (voices[outer] as number) >= best) continue;
      sum += voices[semitonesBetween(layer, candidate, next, c)] as number;
      if (sum < best) {
        best = sum;
        this.where = c;
      }
    }
    return best;
  }
}

/** A beginning of a way. */
interface Beginning extends FoundWay {
  /** Moves and efforts up to and with its last candidate. */
  readonly so: number;
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
      ? Infinity
      : (this.first[this.room - 1]?.cost ?? -Infinity);
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

/** The backward pass: every layer as the one before it sees it. */
function aheadOfAll(layers: readonly Layer[], costs: MoveCosts): Ahead[] {
  const ahead: Ahead[] = [];
  let rest: Int32Array = new Int32Array(layers.at(-1)?.count ?? 0);
  for (let at = layers.length - 1; at >= 0; at--) {
    const layer = layers[at] as Layer;
    const next = ahead[at + 1];
    if (next !== undefined) rest = restBefore(layer, next, costs);
    ahead[at] = aheadOf(layer, rest);
  }
  return ahead;
}

/** By candidate of the first layer: what bringing the bar there costs. */
function arrivals({ layers: [first], costs, home }: WaysQuestion): Int32Array {
  const prices = (first?.positions ?? []).map((position) =>
    home === undefined ? 0 : costs.fromHome(home, position),
  );
  return Int32Array.from(first?.position ?? [], (position) => prices[position] ?? 0);
}

/** By candidate of the first layer: the cost of the best way that begins with it. */
export function leastFrom(question: WaysQuestion): Int32Array {
  const arrival = arrivals(question);
  const onward = aheadOfAll(question.layers, question.costs)[0]?.onward ?? new Int32Array(0);
  return onward.map((cost, candidate) => cost + (arrival[candidate] as number));
}

/** The best ways in their order; fewer where there are no more; none where a layer is empty. */
export function bestWays(question: WaysQuestion): FoundWay[] {
  const { layers, costs, most } = question;
  const [first] = layers;
  if (first === undefined || layers.some(({ count }) => count === 0)) return [];
  const ahead = aheadOfAll(layers, costs);
  const arrival = arrivals(question);

  const ways: FoundWay[] = [];
  const open = new Open(most);
  const start = ahead[0] as Ahead;
  for (let c = 0; c < first.count; c++) {
    const price = arrival[c] as number;
    open.add({
      so: price + (first.effort[c] as number),
      cost: price + (start.onward[c] as number),
      candidates: Int32Array.of(c),
    });
  }
  for (let one = open.take(); one !== undefined; one = open.take()) {
    const depth = one.candidates.length;
    if (depth === layers.length) {
      ways.push({ cost: one.cost, candidates: one.candidates });
      open.room--;
      continue;
    }
    continueFrom(one, layers[depth - 1] as Layer, ahead[depth] as Ahead, costs, open);
  }
  return ways;
}

/** Adds every continuation of a beginning by one candidate that can still count. */
function continueFrom(
  one: Beginning,
  layer: Layer,
  ahead: Ahead,
  costs: MoveCosts,
  open: Open,
): void {
  const from = one.candidates.at(-1) as number;
  const position = layer.position[from] as number;
  const prices = pricesFrom(layer, position, ahead, costs);
  const { layer: next, onward, members, least } = ahead;
  const neck = layer.positions[position]?.neck;
  const grip = layer.grip[from] as number;
  for (let q = 0; q < prices.length; q++) {
    const base = one.so + (prices[q] as number);
    if (base + (least[q] as number) > open.limit) continue;
    const sameNeck = next.positions[q]?.neck === neck;
    for (const c of members[q] as Int32Array) {
      if (base + (onward[c] as number) > open.limit) break;
      const move =
        (costs.picking[changedBits(grip, next.grip[c] as number, sameNeck)] as number) +
        (costs.voices[semitonesBetween(layer, from, next, c)] as number);
      const cost = base + move + (onward[c] as number);
      if (cost > open.limit) continue;
      const candidates = new Int32Array(one.candidates.length + 1);
      candidates.set(one.candidates);
      candidates[one.candidates.length] = c;
      open.add({ so: base + move + (next.effort[c] as number), cost, candidates });
    }
  }
}
