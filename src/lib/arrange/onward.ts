/**
 * What comes after the candidates of a stage, and the moves there: what the backward pass hands on from stage
 * to stage, and the forward pass goes by.
 */
import { controlOf } from './feetCosts';
import { NEVER, idleAt, type Coded, type MoveCosts } from './moveCosts';
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
  /** By place of the bar and control, as `idleAt`: the positions where it stays idle, and that count. */
  readonly idling: ReadonlyMap<number, readonly number[]>;
  /** By position: the price of coming there, where it was asked last. */
  readonly prices: Int32Array;
}

/** No positions. */
const NOWHERE: readonly number[] = [];

/** No candidates. */
export const NONE = new Int32Array(0);

/** A stage as the one before it sees it, once what comes after it is known. */
export function aheadOf(stage: Stage, { members, rests }: Rest, costs: MoveCosts): Ahead {
  const { effort, held, layer } = stage;
  const codes = costs.codesOf(stage);
  const order: Int32Array[] = [];
  const onward: Int32Array[] = [];
  const least = new Int32Array(held.length).fill(NEVER);
  const idling = new Map<number, number[]>();
  for (let position = 0; position < held.length; position++) {
    const own = members[position] as Int32Array;
    if (own.length === 0) {
      order.push(NONE);
      onward.push(NONE);
      continue;
    }
    const candidates = own.slice();
    const costsOnward = new Int32Array(own.length);
    const rest = rests[position] as Int32Array;
    for (let at = 0; at < own.length; at++)
      costsOnward[at] = (effort[own[at] as number] as number) + (rest[at] as number);
    sort(candidates, costsOnward);
    order.push(candidates);
    onward.push(costsOnward);
    least[position] = costsOnward[0] as number;
    if (position < layer.positions.length) continue;
    const idle = idleAt(codes.bar[position] as number, codes.idle[position] as number);
    const there = idling.get(idle);
    if (there === undefined) idling.set(idle, [position]);
    else there.push(position);
  }
  return {
    stage,
    codes,
    members: order,
    onward,
    least,
    plain: Int32Array.from(layer.positions, (_, position) => position),
    idling,
    prices: new Int32Array(held.length),
  };
}

/** Puts a position's candidates in order, least cost first; by insertion, for they are few, and almost so. */
function sort(candidates: Int32Array, costs: Int32Array): void {
  for (let i = 1; i < candidates.length; i++) {
    const moving = candidates[i] as number;
    const price = costs[i] as number;
    let to = i;
    for (; to > 0 && (costs[to - 1] as number) > price; to--) {
      candidates[to] = candidates[to - 1] as number;
      costs[to] = costs[to - 1] as number;
    }
    candidates[to] = moving;
    costs[to] = price;
  }
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

  /** Positions where something stays that is needed at this one, and so engaged; none for most. */
  stayingAfter(position: number): readonly number[] {
    const { codes, ahead } = this;
    if (ahead.idling.size === 0) return NOWHERE;
    const bar = codes.bar[position] as number;
    let found: number[] | undefined;
    for (const control of codes.controls[position] ?? []) {
      const there = ahead.idling.get(idleAt(bar, control));
      if (there !== undefined) for (const q of there) (found ??= []).push(q);
    }
    return found ?? NOWHERE;
  }

  /**
   * The positions that can follow one where something stays idle, and for which that counts: those that need
   * it, in whatever state, and those where it goes on staying. For all others it might as well not be.
   *
   * @param isWorth which of those that need it are asked for; all where left out
   */
  afterIdle(position: number, isWorth: (q: number) => boolean = () => true): number[] {
    const { codes, ahead, from } = this;
    const idle = codes.idle[position] as number;
    const bar = codes.bar[position] as number;
    const found: number[] = [];
    const needing = ahead.codes.needing.get(controlOf(idle));
    if (needing !== undefined)
      for (let at = 0; at < needing.length; at++)
        if (isWorth(needing[at] as number)) found.push(needing[at] as number);
    for (const q of ahead.idling.get(idleAt(bar, idle)) ?? []) found.push(q);
    // it is needed there, and something else stays
    for (const q of this.stayingAfter(from.plainly[position] as number))
      if (ahead.codes.controls[q]?.some((control) => controlOf(control) === controlOf(idle)))
        found.push(q);
    return found;
  }

  /** The positions that can follow one, all that counts, with the prices of going there in `ahead.prices`. */
  priced(position: number): Int32Array {
    const { plain } = this.ahead;
    let which = plain;
    if ((this.codes.idle[position] as number) >= 0) which = new Int32Array(this.afterIdle(position));
    else {
      const staying = this.stayingAfter(position);
      if (staying.length > 0) {
        which = new Int32Array(plain.length + staying.length);
        which.set(plain);
        which.set(staying, plain.length);
      }
    }
    this.price(position, which);
    return which;
  }

  /** Writes the prices of going to some positions into `ahead.prices`. */
  price(position: number, which: ArrayLike<number>): void {
    const { codes, prices } = this.ahead;
    this.costs.pricesTo(this.codes, position, codes, which, this.seconds, prices);
  }
}
