/**
 * What a hold of the legs does to one neck's strings, with the bar at the nut: rows of combinations, cheapest
 * first, on every grip of the neck. Controls without pulls stand in these rows; their pulls are laid over them.
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
import type { ShapeOptions } from './shapeOptions';
import type { Yardstick } from './yardstick';

/** A grip, straight or under a slant. */
interface PricedGrip {
  readonly grip: Grip;
  readonly strings: Uint8Array;
  /** Frets ahead of the nearest string; none under a straight bar. */
  readonly ahead: readonly number[] | undefined;
  readonly price: number;
}

/** A priced grip with the rows that differ on it. */
export interface PlayedGrip extends PricedGrip {
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

/** One neck under some combinations, and by what it is measured. */
export interface UnderControls {
  /** The setup with the controls that are looked for, without pulls. */
  readonly filled: Setup;
  /** From 1. */
  readonly neck: number;
  /** The combinations that are looked at: those that engage the control, or both of two. */
  readonly withIt: readonly (readonly Engaged[])[];
  readonly by: Yardstick;
  readonly options: ShapeOptions;
}

/** Rows of combinations over one neck. */
export class NeckRows {
  readonly strings: number;
  readonly grips: readonly PlayedGrip[];
  /** By row: its price in thousandths. */
  readonly feet: Int32Array;
  /** By row and string: the farthest raise and lower of all controls with pulls. */
  readonly raise: Int8Array;
  readonly lower: Int8Array;
  /** By row and string: what sounds with the pulls that are looked at, and its bit. */
  readonly pitch: Int16Array;
  readonly bit: Uint16Array;
  /** By string: what sounds open. */
  readonly open: readonly number[];

  constructor({ filled, neck, withIt, options }: UnderControls) {
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
    this.strings = played.strings.length;
    this.open = openMidi(played);
    this.feet = Int32Array.from(distinct, ({ price }) => price);
    this.raise = Int8Array.from(distinct.flatMap(({ raise }) => raise));
    this.lower = Int8Array.from(distinct.flatMap(({ lower }) => lower));
    this.pitch = new Int16Array(this.raise.length);
    this.bit = new Uint16Array(this.raise.length);
    for (let s = 0; s < this.strings; s++) this.pull(s, 0, 0);
    this.grips = this.#played(gripsOn(filled, neck, options));
  }

  /**
   * Grips with the rows that they tell apart: of rows that do the same to the strings of a grip only the
   * first, the cheapest, can add anything. String by string the rows fall into classes, numbered on from
   * string to string and grip to grip, so that what an earlier one left is never met again.
   */
  #played(grips: readonly PricedGrip[]): PlayedGrip[] {
    const many = this.feet.length;
    const classes = new Uint32Array(many);
    const split = new Uint32Array(many * STOPS);
    let born = 1;
    return grips.map((priced) => {
      let begun = born;
      classes.fill(0);
      for (const s of priced.strings) {
        begun = born;
        for (let row = 0, at = s; row < many; row++, at += this.strings) {
          const stop = stopCode(this.raise[at] as number, this.lower[at] as number);
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

  /** Lets a string (from 0) be raised (0 …) and lowered (… 0) in all rows. */
  pull(s: number, raise: number, lower: number): void {
    const open = this.open[s] as number;
    for (let at = s; at < this.pitch.length; at += this.strings) {
      const up = Math.max(this.raise[at] as number, raise);
      const down = Math.min(this.lower[at] as number, lower);
      const pitch = open + up + down;
      this.pitch[at] = pitch;
      this.bit[at] = 1 << chromaOf(pitch);
    }
  }
}
