/**
 * What pulls of a control add on one neck, with the bar at the nut: for some pulled strings the spots that
 * become easier than they are without the control, on all grips that hold those strings.
 */
import type { Eases } from './ease';
import { NeckRows, type UnderControls } from './neckRows';
import { Raising } from './raising';

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
  /** What is there without the control. */
  readonly #rest: Eases;
  /** The same, to be left as it is. */
  readonly #now: Eases;
  readonly #rows: NeckRows;
  readonly #raising: Raising;
  readonly #known = new Map<number, Additions>();

  /** @param rest the eases of the neck without the control */
  constructor(under: UnderControls, rest: Eases) {
    this.#rest = rest;
    this.#now = rest.slice();
    this.#raising = new Raising(under.by);
    this.#rows = new NeckRows(under);
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
    const [now, there] = [this.#now, this.#rest];
    const { spots, were } = this.#raising;
    for (const played of this.#rows.grips) {
      if ((played.grip & mask) !== mask) continue;
      this.#raising.raise(this.#rows, played, now);
      for (let i = 0; i < spots.length; i++) {
        const spot = spots[i] as number;
        // what was raised again is here with its last ease already
        if (were[i] !== there[spot]) continue;
        gripColumn.push(played.grip);
        spotColumn.push(spot);
        easeColumn.push(now[spot] as number);
      }
      this.#raising.putBack(now);
    }
    for (let rest = pulls; rest > 0; rest >>= 8) this.#pull(rest, 0);
    return {
      grip: new Uint16Array(gripColumn),
      spot: new Uint16Array(spotColumn),
      ease: new Uint16Array(easeColumn),
    };
  }
}
