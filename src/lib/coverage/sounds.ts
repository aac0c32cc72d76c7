/**
 * What a setup can sound, whatever strings and fret it takes: chords as sets of pitches. Two setups
 * have no strings in common, but a listener can tell whether both can sound E3 C4 G4.
 *
 * A *sound* is the pitches of a voicing, low to high, each as often as it is sounded. Sounds that
 * differ only in height are one *pattern*, the steps from the lowest pitch upwards; the bar moves a
 * pattern along, so a sound is a pattern and its lowest pitch.
 */
import { transpose, type PcSet } from '$lib/theory/pcset';
import { chromaOf } from '$lib/theory/pitch';
import { PRICED_FRETS } from '$lib/effort/prices';
import type { Repertoire } from '$lib/theory/repertoire';
import type { NeckShapes } from '$lib/engine/shapes';
import { shapesOfType, type CountedShapes } from './typeShapes';
import { wantedType } from '$lib/theory/wantedType';

/** One way to a sound. */
export interface Source {
  readonly neck: NeckShapes;
  readonly shape: number;
  readonly fret: number;
  /** In thousandths. */
  readonly effort: number;
}

/** Lowest pitches from 0 to below this are told apart; the highest fret of the highest string is. */
const HEIGHTS = 192;

export interface Pattern {
  /** Semitones above the lowest pitch, the lowest (0) first. */
  readonly steps: readonly number[];
  /** By lowest pitch: the easiest source as one number, `Infinity` where there is none. */
  readonly easiest: Float64Array;
}

/** A setup's sounds by the number of their pattern. */
export interface Sounds {
  readonly shapes: CountedShapes;
  readonly patterns: ReadonlyMap<number, Pattern>;
}

// A source is one exact number that is smaller the easier it is: effort, then fret, then shape, then
// neck. 53 bits: 20 for thousandths, 6 for frets, 25 for shapes, 2 for necks.
const SHAPES = 2 ** 25;
const NECKS = 4;

const packed = (effort: number, fret: number, shape: number, neck: number): number =>
  ((effort * PRICED_FRETS + fret) * SHAPES + shape) * NECKS + neck;

/** The effort of a packed source, in thousandths. */
export const packedEffort = (source: number): number =>
  Math.floor(source / (PRICED_FRETS * SHAPES * NECKS));

/**
 * A source from its number, as `Pattern.easiest` holds it; never `Infinity`. Throws where the neck is
 * not there.
 */
export function sourceOf({ necks }: CountedShapes, source: number): Source {
  const withoutNeck = Math.floor(source / NECKS);
  const position = Math.floor(withoutNeck / SHAPES);
  const neck = necks[source % NECKS];
  if (neck === undefined) throw new Error(`neck ${(source % NECKS) + 1} of ${necks.length}`);
  return {
    neck,
    shape: withoutNeck % SHAPES,
    fret: position % PRICED_FRETS,
    effort: packedEffort(source),
  };
}

/** The steps of a pattern, which is one number: steps are below 128, and grips have few strings. */
const STEPS = 128;

/** Every sound of a setup that says some type of a repertoire, with the easiest way to it. */
export function soundsOf(shapes: CountedShapes, repertoire: Repertoire): Sounds {
  const patterns = new Map<number, Pattern>();
  const met = shapes.necks.map(({ index }) => new Uint8Array(index.count));
  for (const { type } of repertoire)
    for (const { neck, number: shape, frets } of shapesOfType(shapes, wantedType(type))) {
      const neckIndex = neck.index.on.neck - 1;
      const marks = met[neckIndex] as Uint8Array;
      // a shape that says several types sounds the same every time
      if (marks[shape] === 1) continue;
      marks[shape] = 1;
      const { ascending } = neck.index;
      const many = neck.index.soundAscending(shape);
      const low = ascending[0] as number;
      let number = many;
      for (let i = 0; i < many; i++) number = number * STEPS + (ascending[i] as number) - low;
      let pattern = patterns.get(number);
      if (pattern === undefined) {
        const steps = Array.from(ascending.subarray(0, many), (pitch) => pitch - low);
        pattern = { steps, easiest: new Float64Array(HEIGHTS).fill(Infinity) };
        patterns.set(number, pattern);
      }
      const { easiest } = pattern;
      const held = neck.held[shape] as number;
      const bar = neck.barOf(shape);
      for (const fret of frets) {
        const source = packed(held + (bar[fret] as number), fret, shape, neckIndex);
        if (source < (easiest[low + fret] as number)) easiest[low + fret] = source;
      }
    }
  return { shapes, patterns };
}

/** A chord type that a pattern says, and its roots above the lowest pitch. */
export interface PatternType {
  readonly type: string;
  readonly roots: readonly number[];
}

/** Which types of a repertoire the patterns say; worked out once for each set of pitch classes. */
export function patternTypes(repertoire: Repertoire): (pattern: Pattern) => readonly PatternType[] {
  const rooted = repertoire.map(({ type }) => ({
    type,
    sets: new Set(wantedType(type).sets.map(({ set }) => set)),
  }));
  const known = new Map<PcSet, readonly PatternType[]>();
  return ({ steps }) => {
    let above: PcSet = 0;
    for (const step of steps) above |= 1 << chromaOf(step);
    let types = known.get(above);
    if (types === undefined) {
      types = rooted.flatMap(({ type, sets }) => {
        const roots = Array.from({ length: 12 }, (_, root) => root).filter((root) =>
          sets.has(transpose(above, -root)),
        );
        return roots.length === 0 ? [] : [{ type, roots }];
      });
      known.set(above, types);
    }
    return types;
  };
}
