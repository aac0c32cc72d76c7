/**
 * Which strings a slanted bar stops in tune. The bar is straight, frets are not evenly spaced, and
 * the strings are: string i between the outer strings a (far) and b (near) of a grip is stopped at
 * the point (b − i)/(b − a) of the way from b's fret to a's. Because fret distances shrink by one
 * factor all along the neck, neither the fret nor the scale length changes the answer.
 */
import { gripsOf, stringsIn, type Grip } from './grip';

/** How far ahead (positive) or behind the far end of the bar may lie, in frets. */
export const SLANTS = [-2, -1, 1, 2] as const;

/** A string counts as stopped on a fret when it is at most this far from it. */
const TOLERANCE_CENTS = 10;

export interface SlantedGrip {
  readonly grip: Grip;
  readonly slant: number;
  /** Frets from where the bar stops the grip's nearest string, at each string of the grip, far first. */
  readonly ahead: readonly number[];
}

/**
 * Frets ahead of the near string at which a slanted bar stops a string, `share` of the way across
 * (0 at the near string, 1 at the far one). With position 1 − 2^(−n/12) at fret n, the point between
 * 1 and r = 2^(−slant/12) of what remains of the string gives n = −12 · log2(1 + share · (r − 1)).
 */
export const fretsAhead = (slant: number, share: number): number =>
  -12 * Math.log2(1 + share * (2 ** (-slant / 12) - 1));

/** The whole frets under a slanted bar, or `undefined` when a string of the grip falls between. */
export function stoppedBy(grip: Grip, slant: number): readonly number[] | undefined {
  const chosen = stringsIn(grip);
  const far = chosen[0];
  const near = chosen.at(-1);
  if (far === undefined || near === undefined || near === far) return undefined;
  const ahead: number[] = [];
  for (const string of chosen) {
    const frets = fretsAhead(slant, (near - string) / (near - far));
    const whole = Math.round(frets) + 0; // −0 becomes 0
    if (Math.abs(frets - whole) * 100 > TOLERANCE_CENTS) return undefined;
    ahead.push(whole);
  }
  return ahead;
}

/** Every grip of the asked sizes that some slant stops in tune. */
export function slantedGrips(strings: number, sizes: readonly [number, number]): SlantedGrip[] {
  const found: SlantedGrip[] = [];
  for (const grip of gripsOf(strings, [Math.max(2, sizes[0]), sizes[1]]))
    for (const slant of SLANTS) {
      const ahead = stoppedBy(grip, slant);
      if (ahead !== undefined) found.push({ grip, slant, ahead });
    }
  return found;
}
