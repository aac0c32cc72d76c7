/**
 * How well a setup covers a chord type, whatever its root. Every figure counts all twelve roots along
 * the whole neck: no root is asked for more than another, and no fret is left out. The number of
 * voicings is so the sum of what the search finds for the type on each of the twelve roots.
 */
import { inDegreeOrder } from '$lib/theory/degrees';
import { chromaOf, type Chroma } from '$lib/theory/pitch';
import { PER_UNIT } from '$lib/effort/effort';
import { dearest, effortAt, sayings, type Shapes } from './shapes';
import type { WantedType } from './wanted';

/** A tone of a chord, and in how many voicings it stands there. */
export interface ToneCount {
  readonly degree: string;
  readonly voicings: number;
}

export interface TypeCoverage {
  /** Canonical suffix. */
  readonly type: string;
  readonly voicings: number;
  /** The voicings of each root, C first; they add up to `voicings`. */
  readonly byRoot: readonly number[];
  /** Those of them in which no tone is missing. */
  readonly complete: number;
  /**
   * Places along the neck: a neck, a fret, a slant of the bar and the easiest controls for it, with
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
  const at = (place: number): number => {
    let passed = 0;
    return counts.findIndex((count) => (passed += count) > place);
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
export function coverType(shapes: Shapes, wanted: WantedType): TypeCoverage {
  const byRoot = zeros();
  const lowest = zeros();
  const highest = zeros();
  const efforts = new Uint32Array(dearest(shapes) + 1);
  const basses = pitchMarks();
  const melody = pitchMarks();
  /** By neck, hands and root at the nut: to how many frets they go with their easiest grip. */
  const places = new Map<number, number>();
  let complete = 0;
  for (const saying of sayings(shapes, wanted)) {
    const { neck, shape, root, frets } = saying;
    const { index } = neck;
    const low = neck.low[shape] as number;
    const high = neck.high[shape] as number;
    for (const fret of frets) {
      const sounding = chromaOf(root + fret);
      add(efforts, effortAt(neck, shape, fret), 1);
      add(byRoot, sounding, 1);
      basses[(low + fret) * 12 + sounding] = 1;
      melody[(high + fret) * 12 + sounding] = 1;
    }
    add(lowest, chromaOf(low - root), frets.length);
    add(highest, chromaOf(high - root), frets.length);
    if (saying.complete) complete += frets.length;
    const slant = index.slants[(index.slant[shape] as number) - 1]?.slant ?? 0;
    const hand = (index.combination[shape] as number) * SLANT_CODES + slant + SLANT_CODES / 2;
    const place = (hand * 12 + root) * 4 + index.on.neck;
    places.set(place, Math.max(places.get(place) ?? 0, frets.length));
  }
  const voicings = byRoot.reduce((sum, count) => sum + count, 0);
  return {
    type: wanted.type,
    voicings,
    byRoot,
    complete,
    places: [...places.values()].reduce((sum, frets) => sum + frets, 0),
    inversions: toneCounts(lowest, wanted.degrees),
    basses: marked(basses),
    tops: toneCounts(highest, wanted.degrees),
    melody: marked(melody),
    effort: leastAndMedian(efforts, voicings),
  };
}
