/**
 * What a tone is in a chord for, and whether the chord can do without it.
 */
import { degreeParts } from './degrees';
import type { Chroma } from './pitch';

/** A suspended second or fourth counts as the third, in whose place it stands. */
export type ToneRole =
  | 'root'
  | 'third'
  | 'fifth'
  | 'sixth'
  | 'seventh'
  | 'extension'
  | 'alteration'
  | 'bass';

/**
 * What a degree such as `b7` or `#11` does in a chord: 2, 3 and 4 stand in the place of the third, and
 * a 6 or an extension that is altered is an alteration. Never `bass`, which only the note under a
 * chord is. Throws where the text is no degree.
 */
export function roleOf(degree: string): ToneRole {
  const { number, alter } = degreeParts(degree);
  if (number === 1) return 'root';
  if (number <= 4) return 'third';
  if (number === 5) return 'fifth';
  if (number === 7) return 'seventh';
  if (alter !== 0) return 'alteration';
  return number === 6 ? 'sixth' : 'extension';
}

/**
 * May this tone not be left out? The perfect fifth and the root may, and a 9 or 11 that a chord
 * only has because a higher extension is stacked on it (over a seventh).
 */
export function isMust(degree: string, all: readonly string[]): boolean {
  const power = all.length === 2 && all.includes('1') && all.includes('5');
  if (power) return true;
  if (degree === '1' || degree === '5') return false;
  const stacked = all.some((other) => degreeParts(other).number === 7);
  if (stacked && degree === '9') return !all.includes('11') && !all.includes('13');
  if (stacked && degree === '11') return !all.includes('13');
  return true;
}

const BASS_DEGREES = ['1', 'b9', '9', 'b3', '3', '11', '#11', '5', 'b13', '13', 'b7', '7'] as const;

/** The degree that a bass outside of the chord is called by, from its pitch class above the root. */
export function bassDegree(chroma: Chroma): string {
  const degree = BASS_DEGREES[chroma];
  if (!degree) throw new Error(`A pitch class 0 … 11 was expected, not ${String(chroma)}.`);
  return degree;
}
