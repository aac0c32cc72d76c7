/** The prices of moves in thousandths, each looked up instead of added up anew. */
import type { Setup } from '$lib/setup/setup';
import type { Choice } from '$lib/setup/reach';
import { gripSize } from '$lib/search/grip';
import type { Bar } from '$lib/search/hold';
import { thousandths } from '$lib/effort/effort';
import { barMoveTerms, feetMoveTerms, pickingMoveTerms, voicesTerms } from '$lib/effort/move';
import type { WayBalance } from '$lib/effort/weights';
import { STRIDE, type Layer, type Position } from '$lib/engine/layer';

/** More than the semitones between any two sonorities of six notes within 160 pitches. */
const MOST_SEMITONES = 1024;

export interface MoveCosts {
  /** Bar, feet and knees: from one position to each of several. */
  pricesTo(from: Position, to: readonly Position[]): Int32Array;
  /** Bringing the bar from a fret before the first chord. */
  fromHome(home: number, to: Position): number;
  /** By the strings taken up or left: 0 … 28. */
  readonly picking: Int32Array;
  /** By semitones. */
  readonly voices: Int32Array;
}

/** Rows of prices, each filled where it is first read. */
class Rows {
  readonly rows = new Map<number, Int32Array>();
  readonly width: number;

  constructor(width: number) {
    this.width = width;
  }

  at(row: number): Int32Array {
    let prices = this.rows.get(row);
    if (prices === undefined) {
      prices = new Int32Array(this.width).fill(-1);
      this.rows.set(row, prices);
    }
    return prices;
  }
}

// neck 1 … 3, fret 0 … 36, slant −2 … 2
const BAR_CODES = 4 * 64 * 8;
const barCode = ({ neck, fret, slant }: Bar): number => (neck * 64 + fret) * 8 + slant + 2;

/** The prices under a balance, for a setup with so many combinations of controls. */
export function moveCosts(setup: Setup, balance: WayBalance, combinations: number): MoveCosts {
  const feet = new Rows(combinations);
  const bar = new Rows(BAR_CODES);
  const feetBetween = (from: Choice, to: Choice): number =>
    thousandths(feetMoveTerms(setup, from, to), 'feet', balance);
  const barBetween = (from: Bar, to: Bar): number =>
    thousandths(barMoveTerms(setup, from, to), 'bar', balance);
  return {
    pricesTo(from, to) {
      const feetRow = feet.at(from.combination);
      const barRow = bar.at(barCode(from));
      const prices = new Int32Array(to.length);
      for (let q = 0; q < to.length; q++) {
        const goal = to[q] as Position;
        let price = feetRow[goal.combination] as number;
        if (price < 0) price = feetRow[goal.combination] = feetBetween(from.engaged, goal.engaged);
        const code = barCode(goal);
        let way = barRow[code] as number;
        if (way < 0) way = barRow[code] = barBetween(from, goal);
        prices[q] = price + way;
      }
      return prices;
    },
    fromHome: (home, to) => barBetween({ neck: to.neck, fret: home, slant: 0 }, to),
    picking: Int32Array.from({ length: 29 }, (_, changed) =>
      thousandths(pickingMoveTerms(changed), 'picking', balance),
    ),
    voices: Int32Array.from({ length: MOST_SEMITONES }, (_, semitones) =>
      thousandths(voicesTerms(semitones), 'voices', balance),
    ),
  };
}

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
