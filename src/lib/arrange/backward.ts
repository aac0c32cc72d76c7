/**
 * The backward pass: for every candidate of a stage the least cost of all that comes after it.
 *
 * Nothing is thrown away that could change the answer. The least of `move + effort + rest` is sought over the
 * next stage. A move is the price between two positions (bar and feet) plus two prices that are never negative
 * (picking, voices). So for a candidate c of position q, `between(p, q) + effort(c) + rest(c)` is a lower bound
 * of what c can give, and the least of these over q's candidates is one of what q can give. Positions come in
 * the order of their bounds and candidates in that of theirs; once a bound reaches the least sum found,
 * everything after it is at least as much, and a minimum does not change by leaving out what is not below it.
 *
 * A candidate does not count where another of its position is better whatever comes before: where to go by the
 * other costs less even if the hand and the voices went from the one to the other on the way (`kinship.ts`).
 *
 * A control that stays idle makes coming to a candidate neither dearer nor cheaper (it is paid for like one
 * that is let go), so that it counts only where what comes after it is cheaper than without: where the
 * control is needed again, at once or after it has stayed longer. All other idle controls are left out.
 *
 * Where more ways than the best are asked for, whatever leads to a way that is dearer than the best by no more
 * than `slack` counts too.
 */
import { STRIDE } from '$lib/engine/layer';
import type { Kinship } from './kinship';
import { NEVER, changedBits, semitonesBetween, type MoveCosts } from './moveCosts';
import { Gathering, type Ahead, type Passage } from './onward';
import type { Stage } from './stage';

/** The last stage: nothing comes after it, so that all that stays is idle. */
export function lastAhead(stage: Stage, costs: MoveCosts): Ahead {
  const all = new Gathering(stage);
  for (let position = 0; position < stage.layer.positions.length; position++) {
    all.begin(position);
    for (const candidate of stage.members[position] as Int32Array) all.add(candidate, 0);
    all.finish(position);
  }
  return all.ahead(costs);
}

/**
 * A stage as the one before it sees it: what comes after every candidate of it that counts.
 *
 * @param slack thousandths by which a way may be dearer than the best and still be asked for; where left out
 *   only the best counts, and all that are as good
 * @param kinship how far candidates of a position are from one another; where left out all of them count
 */
export function aheadBy(passage: Passage, slack = -1, kinship?: Kinship): Ahead {
  const { from } = passage;
  const backward = new Backward(passage, slack, kinship);
  for (let position = 0; position < from.layer.positions.length; position++) {
    backward.plain(position);
    for (const staying of from.staying[position] ?? []) backward.staying(staying, position);
  }
  return backward.all.ahead(passage.costs);
}

const POSITIONS = 2 ** 16;

/** The backward pass over one stage, position by position. */
class Backward {
  readonly passage: Passage;
  readonly kinship: Kinship | undefined;
  /** So much dearer than the best a way may be. */
  readonly #slack: number;
  /** What comes after a candidate with something staying must cost less than without it and so much more. */
  readonly #above: number;
  /** By candidate: what comes after it where nothing idle stays; `NEVER` where it does not count. */
  readonly #rest: Int32Array;
  /** By candidate of the position looked at: what comes after it with something staying must cost less. */
  readonly #limit: Int32Array;
  /** Are these limits those of the position looked at? */
  #limited = false;
  /** By position ahead: the least that going on there costs, from the position looked at, and from it as held. */
  readonly #bounds: Int32Array;
  readonly #stayingBounds: Int32Array;
  /** Positions ahead in the order of their bounds: the bound above the least, over sixteen bits of number. */
  readonly #order: Float64Array;
  /** What has been found to count. */
  readonly all: Gathering;
  /** The rows of the position looked at, where nothing idle stays. */
  #from = 0;
  #to = 0;
  /** Those of its candidates for which a first sum was sought. */
  readonly #leaders: number[] = [];
  /** The position that gave the last improvement. */
  #where = 0;

  constructor(passage: Passage, slack: number, kinship: Kinship | undefined) {
    this.passage = passage;
    this.kinship = kinship;
    this.#slack = Math.max(0, slack);
    this.#above = slack + 1;
    const many = passage.ahead.least.length;
    this.#rest = new Int32Array(passage.from.layer.count).fill(NEVER);
    this.#limit = new Int32Array(passage.from.layer.count);
    this.#bounds = new Int32Array(many);
    this.#stayingBounds = new Int32Array(many);
    this.#order = new Float64Array(many);
    this.all = new Gathering(passage.from);
  }

  /** The candidates of a position where nothing idle stays. */
  plain(position: number): void {
    const { passage, kinship } = this;
    const { from, ahead } = passage;
    const bounds = this.#bounds;
    const own = from.members[position] as Int32Array;
    passage.price(position);
    this.#limited = false;
    const { following: which, many: follow } = passage;
    const { least, prices } = ahead;
    let nearest = which[0] ?? 0;
    for (let i = 0; i < follow; i++) {
      const q = which[i] as number;
      const bound = (prices[q] as number) + (least[q] as number);
      bounds[q] = bound;
      if (bound < (bounds[nearest] as number)) nearest = q;
    }
    const lowest = bounds[nearest] as number;
    // A first sum for some, from the position with the least bound, and from where the one before went best;
    // for the others what they may cost at most and still count beside those.
    const limits = this.#limit;
    const leaders = this.#leaders;
    leaders.length = 0;
    let most = 0;
    let likely = nearest;
    for (let o = 0; o < own.length; o++) {
      const candidate = own[o] as number;
      const cap = kinship?.cap(from, candidate, leaders, 0, leaders.length, limits) ?? NEVER;
      let limit = cap + this.#slack + 1;
      if (cap === NEVER) {
        leaders.push(candidate);
        limit = this.#least(candidate, position, nearest, NEVER);
        if (likely !== nearest && (bounds[likely] as number) < limit)
          limit = this.#least(candidate, position, likely, limit);
        likely = this.#where;
      }
      limits[candidate] = limit;
      if (limit > most) most = limit;
    }
    const many = this.#arrange(bounds, lowest, most);
    const { all } = this;
    all.begin(position);
    this.#from = all.rows;
    let leader = 0;
    for (let o = 0; o < own.length; o++) {
      const candidate = own[o] as number;
      let limit = limits[candidate] as number;
      const leads = leaders[leader] === candidate;
      if (leads) leader++;
      else {
        if (limit <= lowest) continue;
        const cap =
          kinship?.cap(from, candidate, all.candidates, this.#from, all.rows, this.#rest) ?? NEVER;
        limit = Math.min(limit, cap + this.#slack + 1);
        if (limit <= lowest) continue;
      }
      const rest = this.#search(candidate, position, many, bounds, limit);
      if (!leads && rest >= limit) continue;
      this.#rest[candidate] = rest;
      all.add(candidate, rest);
    }
    this.#to = all.rows;
    all.finish(position);
  }

  /** The candidates for which it is better that something stays; `plainly` was looked at last. */
  staying(position: number, plainly: number): void {
    const { passage, all } = this;
    const { from, ahead } = passage;
    const own = from.members[position] as Int32Array;
    all.begin(position);
    passage.price(position);
    this.#limitAll(plainly);
    const limits = this.#limit;
    let most = 0;
    for (let o = 0; o < own.length; o++) most = Math.max(most, limits[own[o] as number] as number);
    const { following: which, many: follow } = passage;
    const { least, prices } = ahead;
    const bounds = this.#stayingBounds;
    let lowest = NEVER;
    for (let i = 0; i < follow; i++) {
      const q = which[i] as number;
      const bound = (prices[q] as number) + (least[q] as number);
      bounds[q] = bound;
      if (bound < lowest) lowest = bound;
    }
    if (lowest < most) {
      const many = this.#arrange(bounds, lowest, most);
      for (let o = 0; o < own.length; o++) {
        const candidate = own[o] as number;
        const limit = limits[candidate] as number;
        if (lowest >= limit) continue;
        const rest = this.#search(candidate, position, many, bounds, limit);
        if (rest < limit) all.add(candidate, rest);
      }
    }
    all.finish(position);
  }

  /** For every candidate of a position: what comes after it with something staying must cost less than that. */
  #limitAll(position: number): void {
    if (this.#limited) return;
    this.#limited = true;
    const { all } = this;
    const { from } = this.passage;
    for (const candidate of from.members[position] as Int32Array) {
      const cap =
        this.kinship?.cap(from, candidate, all.candidates, this.#from, this.#to, this.#rest) ??
        NEVER;
      const rest = this.#rest[candidate] as number;
      this.#limit[candidate] = Math.min(rest + this.#above, cap + this.#slack + 1);
    }
  }

  /** Puts the positions whose bounds are below a limit in order, least first, and gives how many. */
  #arrange(bounds: Int32Array, lowest: number, limit: number): number {
    const { following: which, many: follow } = this.passage;
    const order = this.#order;
    let many = 0;
    for (let i = 0; i < follow; i++) {
      const q = which[i] as number;
      const bound = bounds[q] as number;
      if (bound < limit) order[many++] = (bound - lowest) * POSITIONS + q;
    }
    // sorts of numbers are quick, but making a view of a list is not
    if (many > 1) order.subarray(0, many).sort();
    return many;
  }

  /** The least cost of going on from a candidate, if it is below a limit; else the limit. */
  #search(
    candidate: number,
    position: number,
    many: number,
    bounds: Int32Array,
    limit: number,
  ): number {
    const order = this.#order;
    let best = limit;
    for (let i = 0; i < many; i++) {
      const q = (order[i] as number) % POSITIONS;
      if ((bounds[q] as number) >= best) break;
      best = this.#least(candidate, position, q, best);
    }
    return best;
  }

  /** The least cost of going on from a candidate to one of a position ahead, or `best` if that is less. */
  #least(candidate: number, position: number, q: number, best: number): number {
    const { from, ahead, costs, joint } = this.passage;
    const { candidates: there, onward } = ahead;
    const first = ahead.begin[q] as number;
    const end = ahead.end[q] as number;
    const price = ahead.prices[q] as number;
    if (joint !== undefined) {
      const own = from.same[candidate] as number;
      const { same } = ahead.stage;
      for (let m = first; m < end; m++) {
        let sum = price + (onward[m] as number);
        if (sum >= best) break;
        sum += joint.price(own, same[there[m] as number] as number);
        if (sum < best) [best, this.#where] = [sum, q];
      }
      return best;
    }
    const { layer } = from;
    const next = ahead.stage.layer;
    const { picking, voices } = costs;
    const { grip: grips, pitches, top: tops } = next;
    const sameNeck = ahead.stage.held[q]?.neck === from.held[position]?.neck;
    const grip = layer.grip[candidate] as number;
    const bottom = layer.pitches[candidate * STRIDE] as number;
    const top = layer.top[candidate] as number;
    for (let m = first; m < end; m++) {
      let sum = price + (onward[m] as number);
      if (sum >= best) break;
      const c = there[m] as number;
      sum += picking[changedBits(grip, grips[c] as number, sameNeck)] as number;
      // the outer voices go at least to the outer ones, so they alone give a lower bound
      const outer =
        Math.abs(bottom - (pitches[c * STRIDE] as number)) + Math.abs(top - (tops[c] as number));
      if (sum + (voices[outer] as number) >= best) continue;
      sum += voices[semitonesBetween(layer, candidate, next, c)] as number;
      if (sum < best) {
        best = sum;
        this.#where = q;
      }
    }
    return best;
  }
}
