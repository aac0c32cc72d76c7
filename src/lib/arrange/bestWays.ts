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
 *    their candidates' places, first to last; none begins another, since a beginning is replaced by its
 *    continuations. So the k that are kept are the first k in the order (cost, then places), and that
 *    order is total.
 */
import type { Layer } from './layer';
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

/** The order of ways: by cost, then by the places of their candidates, first to last. */
export function compareWays(a: FoundWay, b: FoundWay): number {
  if (a.cost !== b.cost) return a.cost - b.cost;
  const length = Math.min(a.candidates.length, b.candidates.length);
  for (let i = 0; i < length; i++) {
    const apart = (a.candidates[i] as number) - (b.candidates[i] as number);
    if (apart !== 0) return apart;
  }
  return 0;
}

/** A layer as the one before it sees it: positions with their candidates, least `effort + rest` first. */
interface Ahead {
  readonly layer: Layer;
  /** By candidate: effort and all that follows. */
  readonly onward: Int32Array;
  /** By position. */
  readonly members: readonly Int32Array[];
  /** By position: the least `onward`. */
  readonly least: Int32Array;
}

function aheadOf(layer: Layer, rest: Int32Array): Ahead {
  const onward = new Int32Array(layer.count);
  for (let c = 0; c < layer.count; c++)
    onward[c] = (layer.effort[c] as number) + (rest[c] as number);
  const members = layer.members.map((each) =>
    each.slice().sort((a, b) => (onward[a] as number) - (onward[b] as number)),
  );
  const least = Int32Array.from(members, (each) => onward[each[0] as number] as number);
  return { layer, onward, members, least };
}

/** By position of the next layer: the price of bar and feet to it. */
const pricesFrom = (layer: Layer, place: number, ahead: Ahead, costs: MoveCosts): Int32Array => {
  const from = layer.positions[place];
  if (from === undefined) throw new Error(`position ${place} of ${layer.positions.length}`);
  return Int32Array.from(ahead.layer.positions, (to) => costs.between(from, to));
};

/** By candidate: the least cost of all moves and efforts after it. */
function restBefore(layer: Layer, ahead: Ahead, costs: MoveCosts): Int32Array {
  const rest = new Int32Array(layer.count);
  const { layer: next, onward, members, least } = ahead;
  const bounds = new Int32Array(next.positions.length);
  layer.members.forEach((own, place) => {
    const prices = pricesFrom(layer, place, ahead, costs);
    for (let q = 0; q < bounds.length; q++)
      bounds[q] = (prices[q] as number) + (least[q] as number);
    const order = bounds
      .map((_, q) => q)
      .sort((a, b) => (bounds[a] as number) - (bounds[b] as number));
    const { neck } = layer.positions[place] ?? { neck: 0 };
    for (const candidate of own) {
      const grip = layer.grip[candidate] as number;
      let best = Infinity;
      for (const q of order) {
        if ((bounds[q] as number) >= best) break;
        const price = prices[q] as number;
        const sameNeck = next.positions[q]?.neck === neck;
        for (const c of members[q] as Int32Array) {
          let sum = price + (onward[c] as number);
          if (sum >= best) break;
          sum += costs.picking[changedBits(grip, next.grip[c] as number, sameNeck)] as number;
          if (sum >= best) continue;
          sum += costs.voices[semitonesBetween(layer, candidate, next, c)] as number;
          if (sum < best) best = sum;
        }
      }
      rest[candidate] = best;
    }
  });
  return rest;
}

/** A beginning of a way. */
interface Beginning extends FoundWay {
  /** Moves and efforts up to and with its last candidate. */
  readonly so: number;
}

/** The first few beginnings in the order of ways, kept in that order. */
class Open {
  readonly kept: Beginning[] = [];
  room: number;

  constructor(room: number) {
    this.room = room;
  }

  /** A bound above which nothing is taken in. */
  get limit(): number {
    return this.kept.length < this.room ? Infinity : (this.kept[this.room - 1]?.cost ?? -Infinity);
  }

  add(one: Beginning): void {
    let [low, high] = [0, this.kept.length];
    while (low < high) {
      const middle = (low + high) >> 1;
      if (compareWays(this.kept[middle] as Beginning, one) <= 0) low = middle + 1;
      else high = middle;
    }
    if (low >= this.room) return;
    this.kept.splice(low, 0, one);
    if (this.kept.length > this.room) this.kept.pop();
  }

  /** The first; what is left may fill one place less, for this one will be a whole way. */
  take(): Beginning | undefined {
    return this.kept.shift();
  }
}

/** The backward pass: every layer as the one before it sees it. */
function aheadOfAll(layers: readonly Layer[], costs: MoveCosts): Ahead[] {
  const ahead: Ahead[] = [];
  let rest = new Int32Array(layers.at(-1)?.count ?? 0);
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
  return Int32Array.from(first?.position ?? [], (place) => prices[place] ?? 0);
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
  const place = layer.position[from] as number;
  const prices = pricesFrom(layer, place, ahead, costs);
  const { layer: next, onward, members, least } = ahead;
  const neck = layer.positions[place]?.neck;
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
