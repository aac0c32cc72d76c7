/** The prices of moves in thousandths, each looked up instead of added up anew. */
import type { Engaged, Setup } from '$lib/setup/setup';
import { gripSize } from '$lib/search/grip';
import type { Bar } from '$lib/search/hold';
import { thousandths } from '$lib/effort/effort';
import { UNHURRIED, barMoveTerms, pickingMoveTerms, voicesTerms } from '$lib/effort/move';
import type { WayBalance } from '$lib/effort/weights';
import { STRIDE, type Layer, type Position } from '$lib/engine/layer';
import { FeetCosts, controlOf } from './feetCosts';
import { Rows } from './rows';
import { barCode, notNeeded, type Stage } from './stage';

/** More than the semitones between any two sonorities of six notes within 160 pitches. */
const MOST_SEMITONES = 1024;

/** Above every cost of a way. */
export const NEVER = 2 ** 30;

/** Positions as the tables of prices know them. */
export interface Coded {
  /** The whole layer: a chord that comes again has the same one. */
  readonly whole: Layer;
  /** By position: what is engaged, as a number. */
  readonly engaged: Int32Array;
  /** By position: what is needed, as a number. */
  readonly needs: Int32Array;
  /** By position: where the bar lies, as a number. */
  readonly bar: Int32Array;
  /** By position: the control that stays although nothing needs it, as `FeetCosts` numbers it; −1 where none does. */
  readonly idle: Int32Array;
  /** By position: each control that is needed, as `FeetCosts` numbers it. */
  readonly controls: readonly (readonly number[])[];
  /** By control, whatever its state: the positions of the layer that need it, ascending. */
  readonly needing: ReadonlyMap<number, Int32Array>;
}

/** What the positions of a layer need, whatever stays there besides. */
interface Needed {
  /** By position: each control, as `FeetCosts` numbers it. */
  readonly needs: readonly (readonly number[])[];
  readonly needing: Coded['needing'];
}

/** Above the number of every control with its state; with it a place of the bar and a control make one number. */
const CONTROL_CODES = 64;

/** A control that stays somewhere, as a number. */
export const idleAt = (bar: number, control: number): number => bar * CONTROL_CODES + control;

export interface MoveCosts {
  codesOf(stage: Stage): Coded;
  /**
   * Bar, feet and knees, from one position to each of several, written into a list by position.
   *
   * @param which the positions that are asked for: the first of these
   * @param many how many of them
   * @param seconds from the beginning of the one to the beginning of the other
   */
  pricesTo(
    from: Coded,
    position: number,
    to: Coded,
    which: ArrayLike<number>,
    many: number,
    seconds: number,
    into: Int32Array,
  ): void;
  /** Engaging what a position holds before the first chord; bringing the bar there from a fret, if told. */
  arrival(to: Position, home: number | undefined): number;
  /** By the strings taken up or left: 0 … 28. */
  readonly picking: Int32Array;
  /** By semitones. */
  readonly voices: Int32Array;
}

/** Above every `barCode`. */
const BAR_CODES = 4 * 64 * 8;
const barAt = (code: number): Bar => ({
  neck: code >> 9,
  fret: (code >> 3) & 63,
  slant: (code & 7) - 2,
});

/** The prices under a balance; `middle` as in `feetTerms`. */
export function moveCosts(setup: Setup, balance: WayBalance, middle?: number): MoveCosts {
  const coded = new WeakMap<Stage['held'], Coded>();
  const needed = new WeakMap<Layer['positions'], Needed>();
  const feet = new FeetCosts(setup, balance, middle);
  const neededAt = (positions: Layer['positions']): Needed => {
    const known = needed.get(positions);
    if (known !== undefined) return known;
    const needs = positions.map(({ engaged }) => engaged.map((each) => feet.codeOf(each)));
    const needing = new Map<number, number[]>();
    needs.forEach((codes, at) => {
      for (const code of codes) {
        const there = needing.get(controlOf(code));
        if (there === undefined) needing.set(controlOf(code), [at]);
        else there.push(at);
      }
    });
    const all = {
      needs,
      needing: new Map([...needing].map(([control, at]) => [control, new Int32Array(at)])),
    };
    needed.set(positions, all);
    return all;
  };
  const codesFor = ({ held, layer, plainly, whole }: Stage): Coded => {
    const { needs, needing } = neededAt(layer.positions);
    const engaged = Int32Array.from(held, (each) => feet.numberOf(each));
    return {
      whole,
      engaged,
      needs: plainly.map((at) => engaged[at] as number),
      bar: Int32Array.from(held, barCode),
      idle: Int32Array.from(held, ({ engaged: all, needs: some, idle }) =>
        idle === '' ? -1 : feet.codeOf(notNeeded(all, some)[0] as Engaged),
      ),
      controls: Array.from(plainly, (at) => needs[at] ?? []),
      needing,
    };
  };
  /** By milliseconds: hurry makes the way dearer. */
  const bars = new Map<number, Rows>();
  const barBetween = (from: Bar, to: Bar, seconds: number): number =>
    thousandths(barMoveTerms(setup, from, to, seconds), 'bar', balance);
  const barsIn = (milliseconds: number): Rows => {
    let rows = bars.get(milliseconds);
    if (rows === undefined) bars.set(milliseconds, (rows = new Rows(BAR_CODES)));
    return rows;
  };
  return {
    codesOf(stage) {
      let codes = coded.get(stage.held);
      if (codes === undefined) coded.set(stage.held, (codes = codesFor(stage)));
      return codes;
    },
    pricesTo(from, position, to, which, many, seconds, into) {
      const engaged = from.engaged[position] as number;
      const bar = from.bar[position] as number;
      const feetRow = feet.from(engaged);
      const time = roundedSeconds(seconds);
      const barRow = barsIn(Math.round(time * 1000)).at(bar, 0);
      for (let i = 0; i < many; i++) {
        const q = which[i] as number;
        const goal = to.engaged[q] as number;
        let price = feetRow[goal] as number;
        if (price < 0) price = feetRow[goal] = feet.between(engaged, goal);
        const code = to.bar[q] as number;
        let way = barRow[code] as number;
        if (way < 0) way = barRow[code] = barBetween(barAt(bar), barAt(code), time);
        into[q] = price + way;
      }
    },
    arrival: (to, home) =>
      feet.arrival(to.engaged) +
      (home === undefined ? 0 : barBetween({ neck: to.neck, fret: home, slant: 0 }, to, UNHURRIED)),
    picking: Int32Array.from({ length: 29 }, (_, changed) =>
      thousandths(pickingMoveTerms(changed), 'picking', balance),
    ),
    voices: Int32Array.from({ length: MOST_SEMITONES }, (_, semitones) =>
      thousandths(voicesTerms(semitones), 'voices', balance),
    ),
  };
}

/** What can count before all work: moves of the bar, or changes that are no pull. */
export type Counted = 'bar moves' | 'changes without a pull';

/**
 * The same prices with something besides, in thousandths, for each move of a kind. A pull is a change by
 * controls under a bar that stays; the same chord again need not be one.
 */
export const counting = (costs: MoveCosts, what: Counted, price: number): MoveCosts => ({
  ...costs,
  pricesTo(from, position, to, which, many, seconds, into) {
    costs.pricesTo(from, position, to, which, many, seconds, into);
    const bar = from.bar[position] as number;
    const needs = from.needs[position] as number;
    for (let i = 0; i < many; i++) {
      const q = which[i] as number;
      const stays = to.bar[q] === bar;
      const counts =
        what === 'bar moves'
          ? !stays
          : !stays || (from.whole !== to.whole && to.needs[q] === needs);
      if (counts) into[q] = (into[q] as number) + price;
    }
  },
});

/** Time as moves are priced by it: whole milliseconds, and no more than matters. */
export const roundedSeconds = (seconds: number): number =>
  Math.round(Math.min(UNHURRIED, Math.max(0, seconds)) * 1000) / 1000;

const BITS = Uint8Array.from({ length: 1 << 14 }, (_, grip) => gripSize(grip));

/** Strings that one candidate has and the other has not. */
export const changedBits = (a: number, b: number, sameNeck: boolean): number =>
  sameNeck ? (BITS[a ^ b] as number) : (BITS[a] as number) + (BITS[b] as number);

/** `voiceLeading` of two candidates, without lists: the twin that the solver runs. */
export function semitonesBetween(a: Layer, from: number, b: Layer, to: number): number {
  let few = a;
  let many = b;
  let fewAt = from * STRIDE;
  let manyAt = to * STRIDE;
  let fewer = a.size[from] as number;
  let more = b.size[to] as number;
  if (fewer > more) {
    [few, many, fewAt, manyAt, fewer, more] = [b, a, manyAt, fewAt, more, fewer];
  }
  const low = few.pitches;
  const high = many.pitches;
  if (fewer === more) {
    let sum = 0;
    for (let i = 0; i < fewer; i++)
      sum += Math.abs((low[fewAt + i] as number) - (high[manyAt + i] as number));
    return sum;
  }
  if (more === fewer + 1) {
    // one voice of the fewer is doubled: all before it keep their place, all after it move up one
    let after = 0;
    for (let i = 0; i < fewer; i++)
      after += Math.abs((low[fewAt + i] as number) - (high[manyAt + i + 1] as number));
    let before = 0;
    let best = Infinity;
    for (let i = 0; i < fewer; i++) {
      before += Math.abs((low[fewAt + i] as number) - (high[manyAt + i] as number));
      const sum = before + after;
      if (sum < best) best = sum;
      after -= Math.abs((low[fewAt + i] as number) - (high[manyAt + i + 1] as number));
    }
    return best;
  }
  return unequal(low, fewAt, fewer, high, manyAt, more);
}

const sums = new Int32Array(STRIDE);

/** The general case: sizes that differ by two or more. */
function unequal(
  low: Uint8Array,
  fewAt: number,
  fewer: number,
  high: Uint8Array,
  manyAt: number,
  more: number,
): number {
  const NEVER = 1 << 20;
  sums.fill(NEVER);
  for (let i = 0; i < more; i++) {
    const voice = high[manyAt + i] as number;
    // from the right, so that the sum to the left is still that of the voice before
    for (let j = fewer - 1; j >= 0; j--) {
      const stay = i === 0 ? (j === 0 ? 0 : NEVER) : (sums[j] as number);
      const step = i > 0 && j > 0 ? (sums[j - 1] as number) : NEVER;
      sums[j] = Math.min(stay, step) + Math.abs((low[fewAt + j] as number) - voice);
    }
  }
  return sums[fewer - 1] as number;
}
