/** Just intonation over a root: the simplest ratios of the prime numbers 2, 3 and 5. */
import { chromaOf, type Chroma, type Midi } from '$lib/theory/pitch';
import { FIVE_LIMIT, centsOf } from './justRatios';

/** Cents by which a pitch is off equal temperament when it is just over a root that stands in it. */
export function justCents(midi: Midi, root: Chroma): number {
  const semitones = chromaOf(midi - root);
  return centsOf(FIVE_LIMIT[semitones] ?? [1, 1]) - 100 * semitones;
}
