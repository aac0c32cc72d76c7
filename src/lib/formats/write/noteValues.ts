/**
 * Durations as notation writes them: note values with dots, tied together where one does not do, in
 * tuplets where a duration divides by an odd number.
 */
import { fractionOf, reduced, type Fraction } from '$lib/arrange/fractions';
import type { Bar, Metre } from '$lib/arrange/progression';

/** Parts of a quarter note. */
export type Duration = Fraction;

export interface NoteValue {
  /** MusicXML 4.0's `note-type-value`. */
  readonly type: (typeof TYPES)[number][0];
  /** 0 or 1. */
  readonly dots: number;
  /** So many in the time of so many; left out where notes are what they say. */
  readonly tuplet?: { readonly actual: number; readonly normal: number };
  /** As it lasts, with the tuplet counted. */
  readonly lasts: Duration;
}

/** By length, in 256ths of a quarter. */
const TYPES = [
  ['breve', 2048],
  ['whole', 1024],
  ['half', 512],
  ['quarter', 256],
  ['eighth', 128],
  ['16th', 64],
  ['32nd', 32],
  ['64th', 16],
  ['128th', 8],
  ['256th', 4],
  ['512th', 2],
  ['1024th', 1],
] as const;
const FINEST = 256;

/** A slot's share of its bar in a piece of this metre. */
export function slotDuration(
  { beats, unit }: Metre,
  { slots, part = 1 }: Bar,
  share: number,
): Duration {
  const all = slots.reduce((sum, each) => sum + each.share, 0);
  const { parts, over } = fractionOf(part);
  return reduced(beats * 4 * share * parts, unit * all * over);
}

/**
 * The values that make a duration, longest first. A duration finer than a 1024th note is an error of
 * ours: bars are divided into a few parts.
 */
export function valuesOf(duration: Duration): NoteValue[] {
  const { parts, over } = reduced(duration.parts, duration.over);
  let odd = over;
  while (odd % 2 === 0) odd /= 2;
  // three in the time of two, five and seven in the time of four, nine in the time of eight
  const normal = odd === 1 ? 1 : 2 ** Math.floor(Math.log2(odd));
  let left = (parts * odd * FINEST) / (over * normal);
  if (!Number.isInteger(left))
    throw new Error(`${parts}/${over} of a quarter note has no note value`);
  const values: NoteValue[] = [];
  while (left > 0) {
    const fits = TYPES.find(([, length]) => length <= left) ?? TYPES[TYPES.length - 1];
    const [type, plain] = fits as (typeof TYPES)[number];
    const dotted = plain > 1 && plain * 1.5 <= left;
    const length = dotted ? plain * 1.5 : plain;
    left -= length;
    values.push({
      type,
      dots: dotted ? 1 : 0,
      ...(odd === 1 ? {} : { tuplet: { actual: odd, normal } }),
      lasts: reduced(length * normal, FINEST * odd),
    });
  }
  return values;
}
