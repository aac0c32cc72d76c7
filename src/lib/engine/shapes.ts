/**
 * The one table of shapes. A shape is a voicing without its fret: the bar carries it up the neck as it
 * is, so whatever is to be said about a whole neck is said about shapes first and multiplied by frets.
 */
import type { PcSet } from '$lib/theory/pcset';
import { chromaOf, type Chroma } from '$lib/theory/pitch';
import type { Setup } from '$lib/setup/setup';
import type { Prices } from '$lib/effort/prices';
import { fretsFor } from '$lib/search/find';
import { stringsIn } from '$lib/search/grip';
import type { NutIndex } from '$lib/search/nutIndex';
import type { IndexQuestion, Instrument } from './instrument';
import { Cached } from './memo';

/** A column of numbers, one a shape. */
interface Columns {
  /** Feet and picking hand together, in thousandths. */
  readonly held: Uint32Array;
  /** The lowest and the highest pitch at the nut. */
  readonly low: Int16Array;
  readonly high: Int16Array;
}

/** The shapes of one neck, numbered as its index numbers them. */
export class NeckShapes {
  readonly setup: Setup;
  readonly index: NutIndex;
  /** By slant number (0 is straight): the frets to which the bar can carry it, ascending. */
  readonly frets: readonly (readonly number[])[];
  readonly #instrument: Instrument;
  #priced: Prices | undefined;
  #columns: Columns | undefined;
  #voicings: Uint32Array | undefined;
  #dearest: number | undefined;

  constructor(instrument: Instrument, index: NutIndex) {
    this.setup = instrument.setup;
    this.index = index;
    this.#instrument = instrument;
    const within = [0, this.setup.frets] as const;
    this.frets = [undefined, ...index.slants].map((slanted) => fretsFor(slanted?.ahead, within));
  }

  /** Worked out when they are first asked for, as the columns are: counting does without. */
  get #prices(): Prices {
    return (this.#priced ??= this.#instrument.prices(this.index));
  }

  get #of(): Columns {
    if (this.#columns !== undefined) return this.#columns;
    const { count, combination, grip } = this.index;
    const { feet, picking } = this.#prices;
    const held = new Uint32Array(count);
    const low = new Int16Array(count);
    const high = new Int16Array(count);
    const { ascending } = this.index;
    for (let shape = 0; shape < count; shape++) {
      held[shape] = feet(combination[shape] as number) + picking(grip[shape] as number);
      const many = this.index.soundAscending(shape);
      low[shape] = ascending[0] as number;
      high[shape] = ascending[many - 1] as number;
    }
    return (this.#columns = { held, low, high });
  }

  /** By shape: feet and picking hand together, in thousandths. */
  get held(): Uint32Array {
    return this.#of.held;
  }
  /** By shape: the lowest pitch at the nut. */
  get low(): Int16Array {
    return this.#of.low;
  }
  /** By shape: the highest pitch at the nut. */
  get high(): Int16Array {
    return this.#of.high;
  }
  /** By slant number, then by fret: the bar, in thousandths. */
  get bar(): readonly Uint32Array[] {
    return this.#prices.bar;
  }

  /** By fret: what the bar of a shape costs, in thousandths. With `held` it is the effort. */
  barOf(shape: number): Uint32Array {
    return this.#prices.bar[this.index.slant[shape] as number] as Uint32Array;
  }

  /** No shape costs more anywhere, in thousandths. */
  get dearest(): number {
    if (this.#dearest !== undefined) return this.#dearest;
    let most = 0;
    for (const held of this.held) if (held > most) most = held;
    const bar = Math.max(...this.bar.map((prices) => Math.max(...prices)));
    return (this.#dearest = most + bar);
  }

  /** By pitch-class set at the nut: how many voicings have it along the whole neck. */
  get voicings(): Uint32Array {
    if (this.#voicings !== undefined) return this.#voicings;
    const { from, byPcs, slant, slants } = this.index;
    const straight = (this.frets[0] ?? []).length;
    const voicings = new Uint32Array(4096);
    for (let set: PcSet = 0; set < 4096; set++) {
      const first = from[set] as number;
      const end = from[set + 1] as number;
      let many = 0;
      if (slants.length === 0) many = (end - first) * straight;
      else
        for (let at = first; at < end; at++)
          many += (this.frets[slant[byPcs[at] as number] as number] as readonly number[]).length;
      voicings[set] = many;
    }
    return (this.#voicings = voicings);
  }

  /** The frets to which the bar can carry a shape, ascending. */
  fretsOf(shape: number): readonly number[] {
    return this.frets[this.index.slant[shape] as number] as readonly number[];
  }

  /**
   * The effort of a shape at a fret, in thousandths, without a home fret. It is work alone: how clearly
   * a shape says a chord depends on the chord.
   */
  effortAt(shape: number, fret: number): number {
    return (this.held[shape] as number) + (this.barOf(shape)[fret] as number);
  }

  /** The same where no fret has to be reached for: hold, grip and slant alone. */
  effortOf(shape: number): number {
    return this.effortAt(shape, 1);
  }
}

/** One shape of a neck. */
export interface Shape {
  readonly neck: NeckShapes;
  /** Its number in the neck's table. */
  readonly number: number;
  /** Pitch classes with the bar at the nut. */
  readonly set: PcSet;
  /** In thousandths, without the reach up the neck. */
  readonly effort: number;
}

const SHAPES = new Cached<readonly NeckShapes[]>(4);

/** Every shape of every neck of an instrument; grips and slants as the search takes them by default. */
export const shapesOf = (
  instrument: Instrument,
  asked: IndexQuestion = {},
): readonly NeckShapes[] =>
  instrument.once(SHAPES, JSON.stringify([asked.sizes, asked.slants, asked.strings]), () =>
    instrument.setup.necks.map(
      (_, index) => new NeckShapes(instrument, instrument.index(index + 1, asked)),
    ),
  );

/** The shapes of a neck that sound one of some sets, set by set; none that no fret can take. */
export function* shapesWith(neck: NeckShapes, sounds: (set: PcSet) => boolean): Generator<Shape> {
  const { from, byPcs } = neck.index;
  for (let set: PcSet = 0; set < 4096; set++) {
    const first = from[set] as number;
    const end = from[set + 1] as number;
    if (first === end || !sounds(set)) continue;
    for (let at = first; at < end; at++) {
      const number = byPcs[at] as number;
      if (neck.fretsOf(number).length > 0)
        yield { neck, number, set, effort: neck.effortOf(number) };
    }
  }
}

/** The note on top of a shape, as a pitch class at the nut. */
export const topOf = ({ neck, number }: Shape): Chroma => chromaOf(neck.high[number] as number);

/** The strings of a shape, numbered from 1. */
export const stringsOf = ({ neck: { index }, number }: Shape): number[] =>
  stringsIn(index.grip[number] as number);

/** The frets, within bounds, at which a shape can be played, ascending. */
export const fretsWithin = (
  { neck, number }: Shape,
  [first, last]: readonly [number, number],
): number[] => {
  const ahead = neck.index.slantAt(number)?.ahead;
  return fretsFor(ahead, [first, last]);
};

/** What makes two shapes the same: strings, slant and pitches. */
export function shapeKey({ neck: { index }, number }: Shape): string {
  const slant = index.slantAt(number)?.slant ?? 0;
  return String.fromCharCode(
    index.grip[number] as number,
    2 + slant,
    ...index.pitchesAtNut(number),
  );
}

/** No shape costs more anywhere, in thousandths. */
export const dearest = (necks: readonly NeckShapes[]): number =>
  Math.max(...necks.map((neck) => neck.dearest));
