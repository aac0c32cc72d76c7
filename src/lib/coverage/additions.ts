/**
 * What pulls of a control add on one neck, with the bar at the nut: for some pulled strings the spots that
 * become easier than they are without the control, on all grips that hold those strings.
 */
import { chromaOf } from '$lib/theory/pitch';
import { openMidi, type Engaged, type Setup } from '$lib/setup/setup';
import { farthest } from '$lib/setup/sounding';
import { fretsFor } from '$lib/search/find';
import { gripsOf, stringsIn, type Grip } from '$lib/search/grip';
import { slantedGrips } from '$lib/search/slants';
import { Feet } from '$lib/effort/feet';
import { homeStrings } from '$lib/effort/picking';
import { barPrices, feetPrice, pickingPrice } from '$lib/effort/prices';
import type { ShapeOptions } from './change';
import { easeOf, type Eases } from './ease';
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

/** A grip, straight or under a slant. */
interface PricedGrip {
  readonly grip: Grip;
  readonly strings: Uint8Array;
  /** Frets ahead of the nearest string; none under a straight bar. */
  readonly ahead: readonly number[] | undefined;
  readonly price: number;
}

/** A priced grip with the rows that differ on it. */
interface PlayedGrip extends PricedGrip {
  readonly rows: Uint32Array;
}

/** The grips of a neck, straight and under every slant that some fret can take. */
function gripsOn(setup: Setup, neckNumber: number, { sizes, slants }: ShapeOptions): PricedGrip[] {
  const neck = setup.necks[neckNumber - 1];
  if (neck === undefined) throw new Error(`neck ${neckNumber} is not in the setup`);
  const home = homeStrings(neck);
  const barOf = new Map<number, number>();
  const priced = (grip: Grip, slant: number, ahead?: readonly number[]): PricedGrip => {
    let bar = barOf.get(slant);
    // fret 1 need not be reached for
    if (bar === undefined) barOf.set(slant, (bar = barPrices(setup, slant)[1] ?? 0));
    return {
      grip,
      strings: Uint8Array.from(stringsIn(grip), (string) => string - 1),
      ahead,
      price: pickingPrice(neck, grip, home) + bar,
    };
  };
  const count = neck.strings.length;
  return [
    ...gripsOf(count, sizes).map((grip) => priced(grip, 0)),
    ...(slants ? slantedGrips(count, sizes) : [])
      .filter(({ ahead }) => fretsFor(ahead, [0, setup.frets]).length > 0)
      .map(({ grip, slant, ahead }) => priced(grip, slant, ahead)),
  ];
}

/** A raise of up to 7 semitones and a lower of up to 7 in one number. */
const STOPS = 64;
const stopCode = (raise: number, lower: number): number => raise * 8 - lower;

/**
 * The additions of one neck, found when some pulls are first asked for; those of up to two strings are
 * remembered, for many candidates share them.
 */
export class NeckAdditions {
  readonly #by: Yardstick;
  /** What is there without the control. */
  readonly #rest: Eases;
  readonly #strings: number;
  readonly #open: readonly number[];
  readonly #grips: readonly PlayedGrip[];
  /** By row, a combination that engages the control, cheapest first: its price. */
  readonly #feet: Int32Array;
  /** By row and string: the farthest raise and lower of all other controls. */
  readonly #raise: Int8Array;
  readonly #lower: Int8Array;
  /** By row and string: what sounds with the pulls that are looked at, and its bit. */
  readonly #pitch: Int16Array;
  readonly #bit: Uint16Array;
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
    const played = filled.necks[neck - 1];
    if (played === undefined) throw new Error(`neck ${neck} is not in the setup`);
    const feet = new Feet(filled);
    // cheapest first, and of those that move the strings alike only the first
    const rows = withIt
      .map((engaged) => ({ price: feetPrice(feet, engaged), ...farthest(filled, neck, engaged) }))
      .sort((a, b) => a.price - b.price);
    const met = new Set<string>();
    const distinct = rows.filter(({ raise, lower }) => {
      const key = `${raise.join()}|${lower.join()}`;
      return !met.has(key) && met.add(key);
    });
    this.#by = by;
    this.#rest = rest;
    this.#strings = played.strings.length;
    this.#open = openMidi(played);
    this.#feet = Int32Array.from(distinct, ({ price }) => price);
    this.#raise = Int8Array.from(distinct.flatMap(({ raise }) => raise));
    this.#lower = Int8Array.from(distinct.flatMap(({ lower }) => lower));
    this.#pitch = new Int16Array(this.#raise.length);
    this.#bit = new Uint16Array(this.#raise.length);
    for (let s = 0; s < this.#strings; s++) this.#pull(s, 0);
    this.#grips = this.#played(gripsOn(filled, neck, options));
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

  /**
   * Grips with the rows that they tell apart: of rows that do the same to the strings of a grip only the
   * first, the cheapest, can add anything. String by string the rows fall into classes, numbered on from
   * string to string and grip to grip, so that what an earlier one left is never met again.
   */
  #played(grips: readonly PricedGrip[]): PlayedGrip[] {
    const many = this.#feet.length;
    const classes = new Uint32Array(many);
    const split = new Uint32Array(many * STOPS);
    let born = 1;
    return grips.map((priced) => {
      let begun = born;
      classes.fill(0);
      for (const s of priced.strings) {
        begun = born;
        for (let row = 0, at = s; row < many; row++, at += this.#strings) {
          const stop = stopCode(this.#raise[at] as number, this.#lower[at] as number);
          const key = (classes[row] as number) * STOPS + stop;
          let child = split[key] as number;
          if (child < begun) split[key] = child = born++;
          classes[row] = child - begun;
        }
      }
      const rows = new Uint32Array(born - begun);
      let met = 0;
      for (let row = 0; row < many; row++) if (classes[row] === met) rows[met++] = row;
      return { ...priced, rows };
    });
  }

  /** Lets the control pull a string (from 0) in all rows. */
  #pull(s: number, semitones: number): void {
    const open = this.#open[s] as number;
    for (let at = s; at < this.#pitch.length; at += this.#strings) {
      const up = Math.max(this.#raise[at] as number, semitones);
      const down = Math.min(this.#lower[at] as number, semitones);
      const pitch = open + up + down;
      this.#pitch[at] = pitch;
      this.#bit[at] = 1 << chromaOf(pitch);
    }
  }

  #find(pulls: number): Additions {
    let mask = 0;
    for (let rest = pulls; rest > 0; rest >>= 8) {
      this.#pull(stringOfPull(rest), semitonesOfPull(rest));
      mask |= 1 << stringOfPull(rest);
    }
    const gripColumn: number[] = [];
    const spotColumn: number[] = [];
    const easeColumn: number[] = [];
    const best = this.#best;
    for (const played of this.#grips) {
      if ((played.grip & mask) !== mask) continue;
      this.#meet(played, spotColumn);
      for (let i = gripColumn.length; i < spotColumn.length; i++) {
        const spot = spotColumn[i] as number;
        gripColumn.push(played.grip);
        easeColumn.push(best[spot] as number);
        best[spot] = 0;
      }
    }
    for (let rest = pulls; rest > 0; rest >>= 8) this.#pull(stringOfPull(rest), 0);
    return {
      grip: new Uint16Array(gripColumn),
      spot: new Uint16Array(spotColumn),
      ease: new Uint16Array(easeColumn),
    };
  }

  /** Adds the spots that a grip makes easier to a column, and leaves their eases in `#best`. */
  #meet({ strings: own, ahead, price, rows }: PlayedGrip, spots: number[]): void {
    const { from, chordNumber, lean } = this.#by;
    const strings = this.#strings;
    const pitches = this.#pitch;
    const bits = this.#bit;
    const feet = this.#feet;
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
