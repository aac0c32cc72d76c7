/** The prices of moves in thousandths, each looked up instead of added up anew. */
import type { Setup } from '$lib/setup/setup';
import type { Choice } from '$lib/setup/reach';
import { thousandths } from '$lib/effort/effort';
import {
  barMoveTerms,
  feetMoveTerms,
  pickingMoveTerms,
  voicesTerms,
  type BarPlace,
} from '$lib/effort/move';
import type { WayBalance } from '$lib/effort/weights';
import { STRIDE, type Layer, type Position } from './layer';

/** More than the semitones between any two sonorities of six notes within 160 pitches. */
const MOST_SEMITONES = 1024;

export interface MoveCosts {
  /** Bar, feet and knees. */
  between(from: Position, to: Position): number;
  /** Bringing the bar from a fret before the first chord. */
  fromHome(home: number, to: Position): number;
  /** By the strings taken up or left: 0 … 28. */
  readonly picking: Int32Array;
  /** By semitones. */
  readonly voices: Int32Array;
}

export function moveCosts(setup: Setup, balance: WayBalance): MoveCosts {
  const feet = new Map<Choice, Map<Choice, number>>();
  const bar = new Map<number, number>();
  const feetBetween = (from: Choice, to: Choice): number => {
    let row = feet.get(from);
    if (row === undefined) feet.set(from, (row = new Map<Choice, number>()));
    let price = row.get(to);
    if (price === undefined)
      row.set(to, (price = thousandths(feetMoveTerms(setup, from, to), 'feet', balance)));
    return price;
  };
  // neck 1 … 3, fret 0 … 36, slant −2 … 2, twice: below 2^22
  const code = ({ neck, fret, slant }: BarPlace): number => (neck * 64 + fret) * 8 + slant + 2;
  const barBetween = (from: BarPlace, to: BarPlace): number => {
    const key = code(from) * 2048 + code(to);
    let price = bar.get(key);
    if (price === undefined)
      bar.set(key, (price = thousandths(barMoveTerms(setup, from, to), 'bar', balance)));
    return price;
  };
  return {
    between: (from, to) => barBetween(from, to) + feetBetween(from.engaged, to.engaged),
    fromHome: (home, to) => barBetween({ neck: to.neck, fret: home, slant: 0 }, to),
    picking: Int32Array.from({ length: 29 }, (_, changed) =>
      thousandths(pickingMoveTerms(changed), 'picking', balance),
    ),
    voices: Int32Array.from({ length: MOST_SEMITONES }, (_, semitones) =>
      thousandths(voicesTerms(semitones), 'voices', balance),
    ),
  };
}

const BITS = Uint8Array.from({ length: 1 << 14 }, (_, set) => {
  let count = 0;
  for (let rest = set; rest !== 0; rest &= rest - 1) count++;
  return count;
});

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
