/**
 * A setup's shapes: its voicings at the nut, with what each costs and where it begins and ends. The
 * bar carries a shape to every fret, so whatever is to be said about a whole neck is said about
 * shapes first and multiplied by frets.
 */
import { transpose } from '$lib/theory/pcset';
import type { Chroma, Midi } from '$lib/theory/pitch';
import type { Setup } from '$lib/setup/setup';
import { PER_UNIT } from '$lib/effort/effort';
import { feetEffort } from '$lib/effort/feet';
import { pricesOf, type Prices } from '$lib/effort/prices';
import { compass, slantFits } from '$lib/search/find';
import { nutIndex, type NutIndex } from '$lib/search/nutIndex';
import type { WantedType } from './wanted';

export interface NeckShapes {
  readonly index: NutIndex;
  /** By shape: feet and picking hand together, in thousandths. */
  readonly held: Uint32Array;
  /** By shape: the lowest and the highest pitch at the nut. */
  readonly low: Int16Array;
  readonly high: Int16Array;
  readonly bar: Prices['bar'];
  /** By slant number (0 is straight): the frets to which the bar can carry it, ascending. */
  readonly frets: readonly (readonly number[])[];
}

export interface Shapes {
  readonly setup: Setup;
  readonly necks: readonly NeckShapes[];
  /** What costs more than this, in thousandths, is passed over; `Infinity` where all counts. */
  readonly most: number;
}

function neckShapes(setup: Setup, neck: number): NeckShapes {
  const index = nutIndex(setup, neck, (engaged) => feetEffort(setup, engaged));
  const prices = pricesOf(setup, index);
  const held = new Uint32Array(index.count);
  const low = new Int16Array(index.count);
  const high = new Int16Array(index.count);
  for (let shape = 0; shape < index.count; shape++) {
    held[shape] =
      prices.feet(index.combination[shape] as number) + prices.picking(index.grip[shape] as number);
    const [lowest, highest] = compass(index, shape);
    low[shape] = lowest;
    high[shape] = highest;
  }
  const all = Array.from({ length: setup.frets + 1 }, (_, fret) => fret);
  const frets = [undefined, ...index.slants].map((slanted) =>
    slanted === undefined
      ? all
      : all.filter((fret) => slantFits(slanted.ahead, fret, [0, setup.frets])),
  );
  return { index, held, low, high, bar: prices.bar, frets };
}

const kept = new WeakMap<Setup, Map<number, Shapes>>();

/**
 * Every shape of every neck: grips of three and four strings, as the search takes them by default.
 * Only those count that some fret gives for at most an effort, where one is named.
 */
export function shapesOf(setup: Setup, mostEffort = Infinity): Shapes {
  const byMost = kept.get(setup) ?? new Map<number, Shapes>();
  kept.set(setup, byMost);
  const before = byMost.get(mostEffort);
  if (before !== undefined) return before;
  const [other] = byMost.values();
  const necks = other?.necks ?? setup.necks.map((_, index) => neckShapes(setup, index + 1));
  const shapes: Shapes = { setup, necks, most: mostEffort * PER_UNIT };
  byMost.set(mostEffort, shapes);
  return shapes;
}

/** The effort of a shape at a fret, in thousandths. */
export const effortAt = ({ index, held, bar }: NeckShapes, shape: number, fret: number): number =>
  (held[shape] as number) + ((bar[index.slant[shape] as number] as Uint32Array)[fret] as number);

/** No shape costs more anywhere, in thousandths. */
export const dearest = ({ necks }: Shapes): number =>
  Math.max(
    ...necks.map(
      ({ held, bar }) =>
        held.reduce((most, each) => Math.max(most, each), 0) +
        Math.max(...bar.map((prices) => Math.max(...prices))),
    ),
  );

/** The pitches of a shape at the nut, low to high. */
export function pitchesAtNut({ index }: NeckShapes, shape: number): Midi[] {
  const { on, open } = index;
  const grip = index.grip[shape] as number;
  const row = (index.combination[shape] as number) * on.strings;
  const ahead = index.slants[(index.slant[shape] as number) - 1]?.ahead;
  const pitches: Midi[] = [];
  for (let s = 0; s < on.strings; s++)
    if (grip & (1 << s))
      pitches.push((open[s] ?? 0) + (on.moves[row + s] ?? 0) + (ahead?.[pitches.length] ?? 0));
  return pitches.sort((a, b) => a - b);
}

/** The frets where a shape counts, ascending. */
function fretsOf(neck: NeckShapes, shape: number, most: number): readonly number[] {
  const frets = neck.frets[neck.index.slant[shape] as number] as readonly number[];
  return most === Infinity ? frets : frets.filter((fret) => effortAt(neck, shape, fret) <= most);
}

/** A shape that says a chord type: where it counts, and the root that it has at the nut. */
export interface Saying {
  readonly neck: NeckShapes;
  readonly shape: number;
  readonly root: Chroma;
  readonly complete: boolean;
  readonly frets: readonly number[];
}

/**
 * Every shape that says a chord type on any root. One that says it on several roots (an augmented
 * triad does) comes once for each.
 */
export function* sayings({ necks, most }: Shapes, { sets }: WantedType): Generator<Saying> {
  for (const neck of necks) {
    const { from, byPcs } = neck.index;
    for (let root = 0; root < 12; root++)
      for (const { set, missing } of sets) {
        const onRoot = transpose(set, root);
        const end = from[onRoot + 1] as number;
        for (let at = from[onRoot] as number; at < end; at++) {
          const shape = byPcs[at] as number;
          const frets = fretsOf(neck, shape, most);
          if (frets.length > 0) yield { neck, shape, root, complete: missing.length === 0, frets };
        }
      }
  }
}
