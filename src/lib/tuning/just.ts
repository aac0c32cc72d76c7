/** Just intonation over a root: the simplest ratios of the prime numbers 2, 3 and 5. */
import { chromaOf, type Chroma, type Midi } from '$lib/theory/pitch';

/**
 * The ratio of each semitone above a root: the twelve-note scale of five-limit just intonation as
 * A. Malcolm printed it in 1721 (in cents 0 112 204 316 386 498 590 702 814 884 996 1088).
 */
const RATIOS: readonly (readonly [number, number])[] = [
  [1, 1],
  [16, 15],
  [9, 8],
  [6, 5],
  [5, 4],
  [4, 3],
  [45, 32],
  [3, 2],
  [8, 5],
  [5, 3],
  [16, 9],
  [15, 8],
];

/** Cents by which a pitch is off equal temperament when it is just over a root that stands in it. */
export function justCents(midi: Midi, root: Chroma): number {
  const semitones = chromaOf(midi - root);
  const [over, under] = RATIOS[semitones] ?? [1, 1];
  return 1200 * Math.log2(over / under) - 100 * semitones;
}
