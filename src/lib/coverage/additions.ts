/**
 * What pulls of a control add on one neck, with the bar at the nut: for some pulled strings the spots that
 * become easier than they are without the control, on all grips that hold those strings.
 */
import { chromaOf } from '$lib/theory/pitch';
import type { Engaged, Setup } from '$lib/setup/setup';
import type { ShapeOptions } from './change';
import { easeOf, type Eases } from './ease';
import { NeckRows, type PlayedGrip } from './neckRows';
import type { Yardstick } from './yardstick';

/** Additions of some pulls, one a row. */
export interface Additions {
  readonly grip: Uint16Array;
  readonly spot: Uint16Array;
  readonly ease: Uint16Array;
}

/**
 * One pull in eight bits: the string (from 0) and how far. Pulls of several strings are their bytes one
 * after another, ascending by string; none is 0.
 */
export const pullCode = (string: number, semitones: number): number =>
  (string << 4) | (semitones + 8);
/** One more pull behind some others. */
export const withPull = (pulls: number, code: number): number => (pulls << 8) | code;
/** The string of one pull, from 0. */
export const stringOfPull = (code: number): number => (code >> 4) & 15;
const semitonesOfPull = (code: number): number => (code & 15) - 8;

/** Pulls of up to two strings are below this; those of three are asked for once each. */
const THREE = 1 << 16;

/**
 * The additions of one neck, found when some pulls are first asked for; those of up to two strings are
 * remembered, for many candidates share them.
 */
export class NeckAdditions {
  readonly #by: Yardstick;
  /** What is there without the control. */
  readonly #rest: Eases;
  readonly #rows: NeckRows;
  readonly #known = new Map<number, Additions>();
  /** Eases all at 0, to be left at 0. */
  readonly #best: Eases;

  /**
   * @param filled the setup with the control, without pulls
   * @param neck from 1
   * @param withIt the combinations that engage the control
   * @param rest the eases of the neck without the control
   */
  constructor(
    filled: Setup,
    neck: number,
    withIt: readonly (readonly Engaged[])[],
    by: Yardstick,
    options: ShapeOptions,
    rest: Eases,
  ) {
    this.#by = by;
    this.#rest = rest;
    this.#rows = new NeckRows(filled, neck, withIt, options);
    this.#best = rest.slice().fill(0);
  }

  /** What some pulls add, on the grips that hold all of their strings. */
  of(pulls: number): Additions {
    let additions = this.#known.get(pulls);
    if (additions === undefined) {
      additions = this.#find(pulls);
      if (pulls < THREE) this.#known.set(pulls, additions);
    }
    return additions;
  }

  #pull(pull: number, semitones: number): void {
    this.#rows.pull(stringOfPull(pull), Math.max(0, semitones), Math.min(0, semitones));
  }

  #find(pulls: number): Additions {
    let mask = 0;
    for (let rest = pulls; rest > 0; rest >>= 8) {
      this.#pull(rest, semitonesOfPull(rest));
      mask |= 1 << stringOfPull(rest);
    }
    const gripColumn: number[] = [];
    const spotColumn: number[] = [];
    const easeColumn: number[] = [];
    const best = this.#best;
    for (const played of this.#rows.grips) {
      if ((played.grip & mask) !== mask) continue;
      this.#meet(played, spotColumn);
      for (let i = gripColumn.length; i < spotColumn.length; i++) {
        const spot = spotColumn[i] as number;
        gripColumn.push(played.grip);
        easeColumn.push(best[spot] as number);
        best[spot] = 0;
      }
    }
    for (let rest = pulls; rest > 0; rest >>= 8) this.#pull(rest, 0);
    return {
      grip: new Uint16Array(gripColumn),
      spot: new Uint16Array(spotColumn),
      ease: new Uint16Array(easeColumn),
    };
  }

  /** Adds the spots that a grip makes easier to a column, and leaves their eases in `#best`. */
  #meet({ strings: own, ahead, price, rows }: PlayedGrip, spots: number[]): void {
    const { from, chordNumber, lean } = this.#by;
    const { strings, pitch: pitches, bit: bits, feet } = this.#rows;
    const there = this.#rest;
    const best = this.#best;
    for (let r = 0; r < rows.length; r++) {
      const row = rows[r] as number;
      const base = row * strings;
      let set = 0;
      let high = 0;
      for (let i = 0; i < own.length; i++) {
        const at = base + (own[i] as number);
        let pitch = pitches[at] as number;
        if (ahead === undefined) set |= bits[at] as number;
        else {
          pitch += ahead[i] as number;
          set |= 1 << chromaOf(pitch);
        }
        if (pitch > high) high = pitch;
      }
      const last = from[set + 1] as number;
      const first = from[set] as number;
      if (first === last) continue;
      const effort = price + (feet[row] as number);
      const top = chromaOf(high);
      for (let entry = first; entry < last; entry++) {
        const spot = (chordNumber[entry] as number) * 12 + top;
        const ease = easeOf(effort, lean[entry] === 1);
        const now = best[spot] as number;
        if (ease <= (there[spot] as number) || ease <= now) continue;
        if (now === 0) spots.push(spot);
        best[spot] = ease;
      }
    }
  }
}
