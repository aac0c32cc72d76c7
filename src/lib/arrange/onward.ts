/**
 * What comes after the candidates of a stage, and the moves there: what the backward pass hands on from stage
 * to stage, and the forward pass goes by.
 */
import { controlOf } from './feetCosts';
import { NEVER, idleAt, type Coded, type MoveCosts } from './moveCosts';
import type { Stage } from './stage';

/** A stage as the one before it sees it. Those of its candidates that count lie in rows, a position's together. */
export interface Ahead {
  readonly stage: Stage;
  readonly codes: Coded;
  /** By position: where its rows begin, and where they end. */
  readonly begin: Int32Array;
  readonly end: Int32Array;
  /** By row: a candidate; those of a position with the least `onward` first. */
  readonly candidates: Int32Array;
  /** By row: effort and all that follows. */
  readonly onward: Int32Array;
  /** By position: the least `onward`. */
  readonly least: Int32Array;
  /** Positions where nothing idle stays: these, from 0. */
  readonly plain: Int32Array;
  /** By place of the bar and control, as `idleAt`: the positions where it stays idle, and that count. */
  readonly idling: ReadonlyMap<number, readonly number[]>;
  /** By position: the price of coming there, where it was asked last. */
  readonly prices: Int32Array;
}

/** The candidates of a stage that count, gathered position by position. */
export class Gathering {
  readonly stage: Stage;
  readonly #begin: Int32Array;
  readonly #end: Int32Array;
  /** By row: a candidate. */
  readonly candidates: Int32Array;
  readonly #onward: Int32Array;
  /** Where the rows of the position end that is gathered now. */
  rows = 0;

  constructor(stage: Stage) {
    this.stage = stage;
    const most = stage.members.reduce((sum, own) => sum + own.length, 0);
    this.#begin = new Int32Array(stage.held.length);
    this.#end = new Int32Array(stage.held.length);
    this.candidates = new Int32Array(most);
    this.#onward = new Int32Array(most);
  }

  /** Begins a position. */
  begin(position: number): void {
    this.#begin[position] = this.rows;
  }

  /** Adds a candidate of the position, with what comes after it. */
  add(candidate: number, rest: number): void {
    this.candidates[this.rows] = candidate;
    this.#onward[this.rows++] = (this.stage.effort[candidate] as number) + rest;
  }

  /** Ends a position: its rows come in their order, by insertion, for they are few, and almost in it. */
  finish(position: number): void {
    const [candidates, onward] = [this.candidates, this.#onward];
    const first = this.#begin[position] as number;
    this.#end[position] = this.rows;
    for (let row = first + 1; row < this.rows; row++) {
      const moving = candidates[row] as number;
      const price = onward[row] as number;
      let to = row;
      for (; to > first && (onward[to - 1] as number) > price; to--) {
        candidates[to] = candidates[to - 1] as number;
        onward[to] = onward[to - 1] as number;
      }
      candidates[to] = moving;
      onward[to] = price;
    }
  }

  /** All of it, as the stage before sees it. */
  ahead(costs: MoveCosts): Ahead {
    const { stage, rows } = this;
    const { held, layer } = stage;
    const [begin, end] = [this.#begin, this.#end];
    const onward = this.#onward.slice(0, rows);
    const codes = costs.codesOf(stage);
    const least = new Int32Array(held.length).fill(NEVER);
    const idling = new Map<number, number[]>();
    for (let position = 0; position < held.length; position++) {
      if (begin[position] === end[position]) continue;
      least[position] = onward[begin[position] as number] as number;
      if (position < layer.positions.length) continue;
      const idle = idleAt(codes.bar[position] as number, codes.idle[position] as number);
      const there = idling.get(idle);
      if (there === undefined) idling.set(idle, [position]);
      else there.push(position);
    }
    return {
      stage,
      codes,
      begin,
      end,
      candidates: this.candidates.slice(0, rows),
      onward,
      least,
      plain: Int32Array.from(layer.positions, (_, position) => position),
      idling,
      prices: new Int32Array(held.length),
    };
  }
}

const isSame = (a: Int32Array, b: Int32Array): boolean => {
  if (a.length !== b.length) return false;
  for (let at = 0; at < a.length; at++) if (a[at] !== b[at]) return false;
  return true;
};

/**
 * By how much all that comes after a stage costs more than it did before; `undefined` where it is not the same
 * all over, or not the same candidates count.
 */
export function dearerBy(before: Ahead, now: Ahead): number | undefined {
  if (before.stage !== now.stage) return undefined;
  const more = (now.onward[0] ?? 0) - (before.onward[0] ?? 0);
  for (let row = 0; row < now.onward.length; row++)
    if ((now.onward[row] as number) - (before.onward[row] as number) !== more) return undefined;
  const same =
    isSame(before.candidates, now.candidates) &&
    isSame(before.begin, now.begin) &&
    isSame(before.end, now.end);
  return same ? more : undefined;
}

/** The same with so much more to pay for whatever comes after. */
export const dearer = (ahead: Ahead, more: number): Ahead => ({
  ...ahead,
  onward: ahead.onward.map((cost) => cost + more),
  least: ahead.least.map((least) => (least === NEVER ? NEVER : least + more)),
});

/**
 * What going from one candidate to the next costs beside bar and feet, where that is not the strings taken up
 * or left and the voices' steps; in thousandths, never negative. Candidates are known by their numbers in the whole
 * layers.
 */
export interface Joint {
  price(from: number, to: number): number;
}

/** No positions. */
const NOWHERE: readonly number[] = [];

/** The moves between two neighbouring stages. */
export class Passage {
  readonly from: Stage;
  readonly codes: Coded;
  readonly ahead: Ahead;
  readonly costs: MoveCosts;
  readonly seconds: number;
  readonly joint: Joint | undefined;
  /** The positions that can follow the one asked for last, all that count. */
  readonly following: Int32Array;
  /** How many of them there are. */
  many = 0;

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
    this.following = new Int32Array(ahead.least.length);
  }

  /** Positions where something stays that is needed at this one, and so engaged; none for most. */
  #stayingAfter(position: number): readonly number[] {
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
   * The positions that can follow one, all that counts, with the prices of going there in `ahead.prices`: all
   * where nothing stays, and those where something stays that is engaged here. Where something is idle already
   * that counts only for those that need it, in whatever state, and those where it goes on staying. For all
   * others it might as well not be.
   */
  price(position: number): void {
    const { codes, ahead, from, following } = this;
    const idle = codes.idle[position] as number;
    let many = 0;
    if (idle < 0) {
      following.set(ahead.plain);
      many = ahead.plain.length;
      for (const q of this.#stayingAfter(position)) following[many++] = q;
    } else {
      const needing = ahead.codes.needing.get(controlOf(idle));
      if (needing !== undefined) {
        following.set(needing);
        many = needing.length;
      }
      const bar = codes.bar[position] as number;
      for (const q of ahead.idling.get(idleAt(bar, idle)) ?? NOWHERE) following[many++] = q;
      // it is needed there, and something else stays
      for (const q of this.#stayingAfter(from.plainly[position] as number))
        if (ahead.codes.controls[q]?.some((control) => controlOf(control) === controlOf(idle)))
          following[many++] = q;
    }
    this.many = many;
    if (many > 0)
      this.costs.pricesTo(
        codes,
        position,
        ahead.codes,
        following,
        many,
        this.seconds,
        ahead.prices,
      );
  }
}
