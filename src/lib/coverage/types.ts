/**
 * How well a setup covers a chord type, whatever its root. Every figure counts all twelve roots along
 * the whole neck: no root is asked for more than another, and no fret is left out.
 */
import { inDegreeOrder } from '$lib/theory/degrees';
import { chromaOf, type Chroma } from '$lib/theory/pitch';
import { PER_UNIT } from '$lib/effort/effort';
import { dearest } from '$lib/engine/shapes';
import { shapesOfType, voicingsOfType, type CountedShapes } from './typeShapes';
import type { WantedType } from '$lib/theory/wantedType';

/** A tone of a chord, and in how many voicings it stands there. */
export interface ToneCount {
  readonly degree: string;
  readonly voicings: number;
}

export interface TypeCoverage {
  /** Canonical suffix. */
  readonly type: string;
  /** Different ones along the whole neck, on whatever root. */
  readonly voicings: number;
  /** The voicings of each root, C first; one that says the type on several roots is in each of them. */
  readonly byRoot: readonly number[];
  /** Those of them in which no tone is missing. */
  readonly complete: number;
  /**
   * Positions along the neck: a neck, a fret, a slant of the bar and the easiest controls for it, with
   * all grips that lie there counted once. (Explore calls it a position.)
   */
  readonly places: number;
  /** The tones that can be lowest, in degree order. */
  readonly inversions: readonly ToneCount[];
  /** Pitches, each octave for itself, that can be lowest: added up over the twelve roots. */
  readonly basses: number;
  /** The tones that can be highest, as a melody needs them. */
  readonly tops: readonly ToneCount[];
  /** Pitches that can be highest, added up over the twelve roots. */
  readonly melody: number;
  /** Of one voicing, without a home fret; `null` where there is none. */
  readonly effort: { readonly least: number | null; readonly median: number | null };
}

/** Slants −2 … 2 beside a combination in one number. */
const SLANT_CODES = 8;

function toneCounts(counts: readonly number[], degrees: ReadonlyMap<Chroma, string>): ToneCount[] {
  const byDegree = new Map(
    [...degrees].map(([chroma, degree]) => [degree, counts[chroma] ?? 0] as const),
  );
  return inDegreeOrder(byDegree.keys())
    .map((degree) => ({ degree, voicings: byDegree.get(degree) ?? 0 }))
    .filter(({ voicings }) => voicings > 0);
}

/** The least value, and the middle one (the mean of the two middle ones where they are even). */
function leastAndMedian(counts: Uint32Array, total: number): TypeCoverage['effort'] {
  if (total === 0) return { least: null, median: null };
  const at = (rank: number): number => {
    let passed = 0;
    return counts.findIndex((count) => (passed += count) > rank);
  };
  const median = (at(Math.floor((total - 1) / 2)) + at(Math.floor(total / 2))) / 2;
  return { least: at(0) / PER_UNIT, median: median / PER_UNIT };
}

const add = (counts: number[] | Uint32Array, at: number, many: number): void => {
  counts[at] = (counts[at] ?? 0) + many;
};
const zeros = (): number[] => new Array<number>(12).fill(0);
/** A mark for each pitch and root. */
const pitchMarks = (): Uint8Array => new Uint8Array(256 * 12);
const marked = (marks: Uint8Array): number => marks.reduce((sum, mark) => sum + mark, 0);

/** All measures of one type on one setup. */
export function coverType(shapes: CountedShapes, wanted: WantedType): TypeCoverage {
  const byRoot = zeros();
  const lowest = zeros();
  const highest = zeros();
  const efforts = new Uint32Array(dearest(shapes.necks) + 1);
  const basses = pitchMarks();
  const melody = pitchMarks();
  /** By neck, hands and root at the nut: to how many frets they go with their easiest grip. */
  const positions = new Map<number, number>();
  let chords = 0;
  for (const { neck, number, root, frets } of shapesOfType(shapes, wanted)) {
    const { index } = neck;
    const low = neck.low[number] as number;
    const high = neck.high[number] as number;
    const held = neck.held[number] as number;
    const bar = neck.barOf(number);
    chords += frets.length;
    for (const fret of frets) {
      const sounding = chromaOf(root + fret);
      add(efforts, held + (bar[fret] as number), 1);
      add(byRoot, sounding, 1);
      basses[(low + fret) * 12 + sounding] = 1;
      melody[(high + fret) * 12 + sounding] = 1;
    }
    add(lowest, chromaOf(low - root), frets.length);
    add(highest, chromaOf(high - root), frets.length);
    const slant = index.slantAt(number)?.slant ?? 0;
    const hand = (index.combination[number] as number) * SLANT_CODES + slant + SLANT_CODES / 2;
    const position = (hand * 12 + root) * 4 + index.on.neck;
    positions.set(position, Math.max(positions.get(position) ?? 0, frets.length));
  }
  return {
    type: wanted.type,
    voicings: voicingsOfType(shapes, wanted),
    byRoot,
    complete: voicingsOfType(shapes, wanted, true),
    places: [...positions.values()].reduce((sum, frets) => sum + frets, 0),
    inversions: toneCounts(lowest, wanted.degrees),
    basses: marked(basses),
    tops: toneCounts(highest, wanted.degrees),
    melody: marked(melody),
    effort: leastAndMedian(efforts, chords),
  };
}
