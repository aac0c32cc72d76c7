/**
 * The backward pass through stages of candidates: for every candidate the least cost of all that comes after
 * it.
 *
 * Nothing is thrown away before the search; what is passed over in it cannot change the answer. The least of
 * `move + effort + rest` is sought over the next stage. A move is the price between two positions (bar and
 * feet) plus two prices that are never negative (picking, voices). So for a candidate c of position q,
 * `between(p, q) + effort(c) + rest(c)` is a lower bound of what c can give, and the least of these over q's
 * candidates is one of what q can give. Positions come in the order of their bounds and candidates in that
 * of theirs; once a bound reaches the least sum found, everything after it is at least as much, and a
 * minimum does not change by leaving out what is not below it.
 *
 * A control that stays idle makes coming to a candidate neither dearer nor cheaper (it is paid for like one
 * that is let go), so that it counts only where what comes after it is cheaper than without: where the
 * control is needed again, at once or after it has stayed longer. All other idle controls are left out. Where
 * more ways than the best are asked for, it may be that only those after the best need the control again: then
 * it counts as long as what comes after it costs at most as much more as the last way does (`slack`). For
 * whatever is before it, coming to it and going on the best way without it is no cheaper than the best way.
 */
import { STRIDE } from '$lib/engine/layer';
import { NEVER, changedBits, semitonesBetween, type Coded, type MoveCosts } from './moveCosts';
import type { Stage } from './stage';

/** What comes after each candidate of a stage, by position. */
export interface Rest {
  /** By position: those of its candidates that count. */
  readonly members: readonly Int32Array[];
  /** By position, for each of these: the least cost of all moves and efforts after it. */
  readonly rests: readonly Int32Array[];
}

/** A stage as the one before it sees it. */
export interface Ahead {
  readonly stage: Stage;
  readonly codes: Coded;
  /** By position: its candidates that count, least `onward` first. */
  readonly members: readonly Int32Array[];
  /** By position, for each of these: effort and all that follows. */
  readonly onward: readonly Int32Array[];
  /** By position: the least `onward`. */
  readonly least: Int32Array;
  /** Positions where nothing idle stays: these, from 0. */
  readonly plain: Int32Array;
  /** By control and place: the positions where it stays idle, and that count. */
  readonly idling: ReadonlyMap<string, readonly number[]>;
  /** By position: the price of coming there, where it was asked last. */
  readonly prices: Int32Array;
}

const NONE = new Int32Array(0);

/** The rest of the last stage: nothing. */
export const noRest = ({ layer, members, held }: Stage): Rest => ({
  members: members.map((own, position) => (position < layer.positions.length ? own : NONE)),
  rests: held.map((_, position) =>
    position < layer.positions.length ? new Int32Array(members[position]?.length ?? 0) : NONE,
  ),
});

/** A stage as the one before it sees it, once what comes after it is known. */
export function aheadOf(stage: Stage, { members, rests }: Rest, costs: MoveCosts): Ahead {
  const { effort, held, layer } = stage;
  const order: Int32Array[] = [];
  const onward: Int32Array[] = [];
  members.forEach((own, position) => {
    if (own.length === 0) {
      order.push(NONE);
      onward.push(NONE);
      return;
    }
    const rest = rests[position] as Int32Array;
    const [candidates, cost] = sorted(
      own,
      own.map((candidate, at) => (effort[candidate] as number) + (rest[at] as number)),
    );
    order.push(candidates);
    onward.push(cost);
  });
  const idling = new Map<string, number[]>();
  for (let position = layer.positions.length; position < held.length; position++) {
    if (order[position]?.length === 0) continue;
    const idle = stage.idle[position] ?? '';
    const there = idling.get(idle);
    if (there === undefined) idling.set(idle, [position]);
    else there.push(position);
  }
  return {
    stage,
    codes: costs.codesOf(stage),
    members: order,
    onward,
    least: Int32Array.from(onward, (each) => each[0] ?? NEVER),
    plain: Int32Array.from(layer.positions, (_, position) => position),
    idling,
    prices: new Int32Array(held.length),
  };
}

/** A position's candidates, least cost first; by insertion, for they are few, and almost in order. */
function sorted(candidates: Int32Array, costs: Int32Array): readonly [Int32Array, Int32Array] {
  const order = candidates.slice();
  const cost = costs.slice();
  for (let i = 1; i < order.length; i++) {
    const moving = order[i] as number;
    const price = cost[i] as number;
    let to = i;
    for (; to > 0 && (cost[to - 1] as number) > price; to--) {
      order[to] = order[to - 1] as number;
      cost[to] = cost[to - 1] as number;
    }
    order[to] = moving;
    cost[to] = price;
  }
  return [order, cost];
}

/**
 * What going from one candidate to the next costs beside bar and feet, where that is not the strings taken up
 * or left and the voices' steps; in thousandths, never negative.
 */
export interface Joint {
  price(from: number, to: number): number;
}

/** The moves between two neighbouring stages. */
export class Passage {
  readonly from: Stage;
  readonly codes: Coded;
  readonly ahead: Ahead;
  readonly costs: MoveCosts;
  readonly seconds: number;
  readonly joint: Joint | undefined;
  /** By position: those that can follow, for nothing is engaged that is not needed. */
  readonly #following: (Int32Array | undefined)[] = [];

  constructor(
    from: Stage,
    codes: Coded,
    ahead: Ahead,
    costs: MoveCosts,
    seconds: number,
    joint?: Joint,
  ) {
    this.joint = joint;
    this.from = from;
    this.codes = codes;
    this.ahead = ahead;
    this.costs = costs;
    this.seconds = seconds;
  }

  /**
   * The positions that can follow one: all the plain ones, and those where something stays that is engaged
   * here. After an idle control only those count that need it or where it stays, for after all others it
   * might as well not be.
   */
  following(position: number): Int32Array {
    let known = this.#following[position];
    if (known === undefined) {
      const { plain, idling, stage } = this.ahead;
      const idle = this.from.idle[position] ?? '';
      const stays = (this.from.engaged[position] ?? []).flatMap((control) => {
        const there = idling.get(control) ?? [];
        if (idle === '' || control === idle) return there;
        return there.filter((q) => stage.engaged[q]?.includes(idle) === true);
      });
      const control = this.from.held[position]?.idle ?? '';
      const others = idle === '' ? plain : (stage.needing.get(control) ?? []);
      known = stays.length === 0 && idle === '' ? plain : Int32Array.from([...others, ...stays]);
      this.#following[position] = known;
    }
    return known;
  }

  /** The positions that can follow one, with the prices of going there in `ahead.prices`. */
  priced(position: number): Int32Array {
    const which = this.following(position);
    const { codes, prices } = this.ahead;
    this.costs.pricesTo(this.codes, position, codes, which, this.seconds, prices);
    return which;
  }
}

/**
 * What comes after every candidate of a stage.
 *
 * @param slack thousandths by which a way may be dearer than the best and still be asked for; where left out
 *   only the best counts
 */
export function restBefore(passage: Passage, slack = -1): Rest {
  const { from } = passage;
  const backward = new Backward(passage, slack);
  const members: Int32Array[] = from.held.map(() => NONE);
  const rests: Int32Array[] = from.held.map(() => NONE);
  for (let position = 0; position < from.layer.positions.length; position++) {
    const own = from.members[position] as Int32Array;
    const plain = backward.plain(position, own);
    members[position] = own;
    rests[position] = plain;
    own.forEach((candidate, o) => (backward.rest[candidate] = plain[o] as number));
    for (const staying of from.staying[position] ?? []) {
      if (backward.isUseless(staying)) continue;
      const [candidates, rest] = backward.staying(staying, from.members[staying] as Int32Array);
      members[staying] = candidates;
      rests[staying] = rest;
    }
  }
  return { members, rests };
}

/** The backward pass over one stage, position by position. */
class Backward {
  readonly passage: Passage;
  /** By candidate: what comes after it where nothing idle stays. */
  readonly rest: Int32Array;
  readonly #bounds: Int32Array;
  /** What comes after a candidate with something staying must cost less than without it and so much more. */
  readonly #above: number;
  #most = 0;

  constructor(passage: Passage, slack: number) {
    this.passage = passage;
    this.#above = slack + 1;
    this.rest = new Int32Array(passage.from.layer.count);
    this.#bounds = new Int32Array(passage.ahead.least.length);
  }

  /** Prices what can follow, and gives it with the one of the least bound. */
  #bounded(position: number): readonly [which: Int32Array, nearest: number] {
    const { ahead } = this.passage;
    const { least, prices } = ahead;
    const bounds = this.#bounds;
    const which = this.passage.priced(position);
    let nearest = which[0] ?? 0;
    for (let i = 0; i < which.length; i++) {
      const q = which[i] as number;
      const bound = (prices[q] as number) + (least[q] as number);
      bounds[q] = bound;
      if (bound < (bounds[nearest] as number)) nearest = q;
    }
    return [which, nearest];
  }

  /** The rests of a position's candidates where nothing idle stays. */
  plain(position: number, own: Int32Array): Int32Array {
    const bounds = this.#bounds;
    const [which, nearest] = this.#bounded(position);
    const search = new Search(this.passage, this.passage.from.held[position]?.neck ?? 0);
    const best = new Int32Array(own.length);
    // A first sum for each: from the position with the least bound, and from where the candidate
    // before it went best, for neighbours mostly go on alike.
    let most = 0;
    let likely = nearest;
    for (let o = 0; o < own.length; o++) {
      const candidate = own[o] as number;
      let sum = search.least(candidate, nearest, NEVER);
      if (likely !== nearest && (bounds[likely] as number) < sum)
        sum = search.least(candidate, likely, sum);
      likely = search.where;
      best[o] = sum;
      if (sum > most) most = sum;
    }
    this.#improve(search, own, best, which, bounds[nearest] as number, most);
    this.#most = best.reduce((so, each) => Math.max(so, each), 0);
    return best;
  }

  /** Can nothing be won by what stays at the position looked at last? */
  isUseless(position: number): boolean {
    const { from, ahead, costs } = this.passage;
    const { least, prices, stage, idling } = ahead;
    const control = from.idle[position] ?? '';
    const saved = costs.mostSaved(from.held[position]?.idle ?? '');
    let bound = NEVER;
    for (const q of stage.needing.get(from.held[position]?.idle ?? '') ?? [])
      bound = Math.min(bound, this.#bounds[q] as number);
    // the way to where it goes on staying is that of the same position where it does not
    for (const q of idling.get(control) ?? [])
      bound = Math.min(
        bound,
        (prices[stage.plainly[q] as number] as number) + (least[q] as number),
      );
    if (bound === NEVER) return true;
    return bound - saved >= this.#most + this.#above;
  }

  /** The candidates for which it is better that something stays, and their rests. */
  staying(position: number, own: Int32Array): readonly [Int32Array, Int32Array] {
    const { rest } = this;
    const above = this.#above;
    const [which, nearest] = this.#bounded(position);
    const lowest = this.#bounds[nearest] as number;
    const open = own.filter((candidate) => (rest[candidate] as number) + above > lowest);
    if (which.length === 0 || open.length === 0) return [NONE, NONE];
    const best = open.map((candidate) => (rest[candidate] as number) + above);
    const most = best.reduce((so, each) => Math.max(so, each), 0);
    const search = new Search(this.passage, this.passage.from.held[position]?.neck ?? 0);
    this.#improve(search, open, best, which, lowest, most);
    const counts = (_: number, o: number): boolean =>
      (best[o] as number) < (rest[open[o] as number] as number) + above;
    return [open.filter(counts), best.filter(counts)];
  }

  /** Goes through all positions whose bounds are below what has been found. */
  #improve(
    search: Search,
    own: Int32Array,
    best: Int32Array,
    which: Int32Array,
    lowest: number,
    most: number,
  ): void {
    const bounds = this.#bounds;
    const order = inOrder(which, bounds, lowest, most);
    for (let o = 0; o < own.length; o++) {
      const candidate = own[o] as number;
      let sum = best[o] as number;
      for (let i = 0; i < order.length; i++) {
        const q = (order[i] as number) % POSITIONS;
        if ((bounds[q] as number) >= sum) break;
        sum = search.least(candidate, q, sum);
      }
      best[o] = sum;
    }
  }
}

const POSITIONS = 2 ** 16;

/**
 * The positions whose bounds are below a limit, least first, each in the lower sixteen bits of a number;
 * the bound above the least one stands over them, so that a sort of numbers is enough.
 */
function inOrder(
  which: Int32Array,
  bounds: Int32Array,
  least: number,
  limit: number,
): Float64Array {
  const keys: number[] = [];
  for (let i = 0; i < which.length; i++) {
    const q = which[i] as number;
    const bound = bounds[q] as number;
    if (bound < limit) keys.push((bound - least) * POSITIONS + q);
  }
  return Float64Array.from(keys).sort();
}

/** The search for the best continuation of the candidates of one position. */
class Search {
  readonly passage: Passage;
  readonly neck: number;
  /** The position that gave the last improvement. */
  where = 0;

  constructor(passage: Passage, neck: number) {
    this.passage = passage;
    this.neck = neck;
  }

  /** The least cost of going on from a candidate to one of a position, or `best` if that is less. */
  least(candidate: number, q: number, best: number): number {
    const { from, ahead, costs, joint } = this.passage;
    if (joint !== undefined) return this.#joined(joint, candidate, q, best);
    const { layer } = from;
    const next = ahead.stage.layer;
    const { picking, voices } = costs;
    const { grip: grips, pitches, top: tops } = next;
    const price = ahead.prices[q] as number;
    const sameNeck = ahead.stage.held[q]?.neck === this.neck;
    const grip = layer.grip[candidate] as number;
    const bottom = layer.pitches[candidate * STRIDE] as number;
    const top = layer.top[candidate] as number;
    const there = ahead.members[q] as Int32Array;
    const onward = ahead.onward[q] as Int32Array;
    for (let m = 0; m < there.length; m++) {
      const c = there[m] as number;
      let sum = price + (onward[m] as number);
      if (sum >= best) break;
      sum += picking[changedBits(grip, grips[c] as number, sameNeck)] as number;
      // the outer voices go at least to the outer ones, so they alone give a lower bound
      const outer =
        Math.abs(bottom - (pitches[c * STRIDE] as number)) + Math.abs(top - (tops[c] as number));
      if (sum + (voices[outer] as number) >= best) continue;
      sum += voices[semitonesBetween(layer, candidate, next, c)] as number;
      if (sum < best) {
        best = sum;
        this.where = q;
      }
    }
    return best;
  }
  /** The same with other prices between candidates. */
  #joined(joint: Joint, candidate: number, q: number, best: number): number {
    const { ahead } = this.passage;
    const price = ahead.prices[q] as number;
    const there = ahead.members[q] as Int32Array;
    const onward = ahead.onward[q] as Int32Array;
    for (let m = 0; m < there.length; m++) {
      let sum = price + (onward[m] as number);
      if (sum >= best) break;
      sum += joint.price(candidate, there[m] as number);
      if (sum < best) {
        best = sum;
        this.where = q;
      }
    }
    return best;
  }
}
