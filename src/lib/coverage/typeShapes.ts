/** Which shapes of an instrument say a chord type, and how many different voicings they are. */
import { transpose } from '$lib/theory/pcset';
import type { Chroma } from '$lib/theory/pitch';
import type { Repertoire } from '$lib/theory/repertoire';
import { wantedType, type WantedType } from '$lib/theory/wantedType';
import type { Setup } from '$lib/setup/setup';
import { PER_UNIT } from '$lib/effort/effort';
import { compile, type Instrument } from '$lib/engine/instrument';
import { shapesOf, type NeckShapes } from '$lib/engine/shapes';

/** The shapes of an instrument as far as they count. */
export interface CountedShapes {
  readonly instrument: Instrument;
  readonly necks: readonly NeckShapes[];
  /** What costs more than this, in thousandths, is passed over; `Infinity` where all counts. */
  readonly most: number;
}

/**
 * The shapes of a setup: grips of three and four strings, as the search takes them by default. Only
 * those count that some fret gives for at most an effort, where one is named.
 */
export function countedShapes(setup: Setup, mostEffort = Infinity): CountedShapes {
  const instrument = compile(setup);
  return { instrument, necks: shapesOf(instrument), most: mostEffort * PER_UNIT };
}

/** The frets where a shape counts, ascending. */
function countedFrets(neck: NeckShapes, number: number, most: number): readonly number[] {
  const frets = neck.fretsOf(number);
  return most === Infinity ? frets : frets.filter((fret) => neck.effortAt(number, fret) <= most);
}

/** A shape that says a chord type: where it counts, and the root that it has at the nut. */
export interface TypeShape {
  readonly neck: NeckShapes;
  readonly number: number;
  readonly root: Chroma;
  readonly complete: boolean;
  readonly frets: readonly number[];
}

/**
 * Every shape that says a chord type on any root. One that says it on several roots (an augmented
 * triad does) comes once for each.
 */
export function* shapesOfType(
  { necks, most }: CountedShapes,
  { sets }: WantedType,
): Generator<TypeShape> {
  for (const neck of necks) {
    const { from, byPcs } = neck.index;
    for (let root = 0; root < 12; root++)
      for (const { set, missing } of sets) {
        const onRoot = transpose(set, root);
        const end = from[onRoot + 1] as number;
        for (let at = from[onRoot] as number; at < end; at++) {
          const number = byPcs[at] as number;
          const frets = countedFrets(neck, number, most);
          if (frets.length > 0) yield { neck, number, root, complete: missing.length === 0, frets };
        }
      }
  }
}

/**
 * How many different voicings of a chord type there are along the whole neck, on whatever root: one
 * that says it on several roots (an augmented triad on three) is one voicing. This is the one count
 * of voicings of a type: the Bench, Change, Compare and the command line tell it.
 *
 * @param complete only those in which no tone is missing
 */
export function voicingsOfType(
  { necks, most }: CountedShapes,
  { onAnyRoot }: WantedType,
  complete = false,
): number {
  const sets = onAnyRoot[complete ? 'complete' : 'all'];
  let count = 0;
  for (const neck of necks) {
    const { from, byPcs } = neck.index;
    for (const set of sets)
      if (most === Infinity) count += neck.voicings[set] as number;
      else
        for (let at = from[set] as number; at < (from[set + 1] as number); at++)
          count += countedFrets(neck, byPcs[at] as number, most).length;
  }
  return count;
}

export interface TypeCount {
  /** Canonical suffix. */
  readonly type: string;
  readonly voicings: number;
}

/** How many voicings a setup has of each chord type of a repertoire, in its order. */
export function countByType(setup: Setup, repertoire: Repertoire): TypeCount[] {
  const shapes = countedShapes(setup);
  return repertoire.map(({ type }) => ({
    type,
    voicings: voicingsOfType(shapes, wantedType(type)),
  }));
}
