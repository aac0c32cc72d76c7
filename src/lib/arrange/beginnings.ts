/**
 * Beginnings of ways, and how they go on: the forward pass.
 *
 * A beginning is a list of places and stands for all ways that begin so: for each candidate of its last place it
 * keeps the least cost of coming there. What comes after being known exactly, its bound is the cost of the best
 * of them, and a beginning whose bound is not below those of k others that are different cannot be among the
 * first k. Beginnings with equal bounds are compared by their places' numbers, first to last; none begins
 * another, since a beginning is replaced by its continuations. So the k that are chosen are the first k in the
 * order (cost, then places), and that order is total.
 */
import { NEVER, changedBits, semitonesBetween } from './moveCosts';
import type { Ahead, Passage } from './onward';

/** What counts as one way: the same candidates, or the same positions. */
export type Apart = 'voicings' | 'positions';

/** The order of ways: by cost, then by the numbers of their places, first to last. */
export function compareWays(
  a: Pick<Beginning, 'cost' | 'places'>,
  b: Pick<Beginning, 'cost' | 'places'>,
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
export interface Reached {
  readonly position: number;
  readonly candidate: number;
  /** Moves and efforts up to here: in a beginning with its own effort, gathered still without. */
  so: number;
  from: Reached | undefined;
}

/** A beginning of ways. */
export interface Beginning {
  /** Of the best way that begins so. */
  readonly cost: number;
  readonly places: Int32Array;
  /** The candidates of its last place that can still count. */
  readonly last: readonly Reached[];
}

/** The first few beginnings in the order of ways. */
export class Open {
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

/** Above the number of candidates of any layer. */
const CANDIDATES = 2 ** 24;

/** Candidates of a stage that a beginning leads to, each with the least cost of coming there. */
export class Gathered {
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

  /** By candidate of the whole layer: what the best way through it costs. */
  through(): Map<number, number> {
    const { same } = this.ahead.stage;
    const costs = new Map<number, number>();
    for (const { candidate, so, onward } of this.#reached.values()) {
      const own = same[candidate] as number;
      costs.set(own, Math.min(costs.get(own) ?? NEVER, so + onward));
    }
    return costs;
  }

  /** All of them as one beginning, of whatever places: what leads to each for the least. */
  together(): Beginning {
    const { stage } = this.ahead;
    const last = [...this.#reached.values()];
    for (const each of last) each.so += stage.effort[each.candidate] as number;
    return { cost: 0, places: new Int32Array(0), last };
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

/** Gathers every continuation of a beginning by one candidate that can still count. */
export function continueFrom(
  one: Beginning,
  passage: Passage,
  into: Gathered,
  limit: number,
): void {
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
          joint?.price(stage.same[candidate] as number, ahead.stage.same[c] as number) ??
          (costs.picking[changedBits(grip, next.grip[c] as number, sameNeck)] as number) +
            (costs.voices[semitonesBetween(stage.layer, candidate, next, c)] as number);
        if (all + move <= limit) into.add(q, row, base + move, reached);
      }
    }
  }
}
