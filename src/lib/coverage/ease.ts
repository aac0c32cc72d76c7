/**
 * How much one setup gives over another, in one number: the score before its clarity, `gain` in data.
 *
 * What is counted are _chords within reach of one bar position_: a chord type on a root above the
 * bar (a chord number), with one of its tones on top (a spot). Of all the shapes that fill a spot, a player
 * uses the easiest; the others are the same chord once more, on neighbouring strings or an octave
 * away, and add nothing here. So a spot gives the _ease_ of its easiest shape, 1 / (1 + effort): 1
 * where nothing has to be pressed, one half where it takes an effort of 1. That is what "per unit of
 * effort" means. A chord with tones left out says half as much.
 *
 * The spots of a chord are averaged over the chord's tones (so that a chord of five tones counts no
 * more than a triad), chords are weighed by how often their type is used, and the ease that
 * the change adds, less what it takes away, is summed. A gain of 100 is one more root on which all
 * chords of the repertoire can be played with the bar still and nothing pressed.
 */
import { shapesWith, topOf, type NeckShapes } from '$lib/engine/shapes';
import { counts, WHOLE, type Yardstick } from './yardstick';

/** Ease is counted in thousandths, so that sums are exact in any order. */
const EASE = 1000;
/** What a chord with tones left out says of it. */
const LEAN = 0.5;

/** The ease of a shape of some effort (in thousandths), 1 … 1000. */
export const easeOf = (effort: number, lean: boolean): number =>
  Math.max(1, Math.round(((lean ? LEAN : 1) * EASE * 1000) / (1000 + effort)));

/** A gain as people read it, from a sum of weights and eases. */
export const gainOf = (sum: number): number => (100 * sum) / (WHOLE * EASE);

/** By spot: the ease of its easiest shape, 0 where there is none. */
export type Eases = Uint16Array;

const noEases = (by: Yardstick): Eases => new Uint16Array(by.types.length * 144);

/** The eases that the shapes of one neck give. */
export function easesOf(neck: NeckShapes, by: Yardstick): Eases {
  const eases = noEases(by);
  for (const shape of shapesWith(neck, (set) => counts(by, set))) {
    const { set, effort } = shape;
    const top = topOf(shape);
    for (let row = by.from[set] as number; row < (by.from[set + 1] as number); row++) {
      const spot = (by.chordNumber[row] as number) * 12 + top;
      const ease = easeOf(effort, by.lean[row] === 1);
      if (ease > (eases[spot] as number)) eases[spot] = ease;
    }
  }
  return eases;
}

/** The sum of a gain by type, in the order of the yardstick; each a whole number. */
export function sumsByType(by: Yardstick, before: Eases, after: Eases): number[] {
  const sums = by.types.map(() => 0);
  for (let spot = 0; spot < before.length; spot++) {
    const more = (after[spot] as number) - (before[spot] as number);
    const type = Math.floor(spot / 144);
    if (more !== 0)
      sums[type] = (sums[type] ?? 0) + more * (by.weight[Math.floor(spot / 12)] as number);
  }
  return sums;
}

/** The ease of a chord number's easiest spot; 0 where the chord cannot be played. */
export function easeAt(eases: Eases, chordNumber: number): number {
  let best = 0;
  for (let spot = chordNumber * 12; spot < chordNumber * 12 + 12; spot++)
    if ((eases[spot] as number) > best) best = eases[spot] as number;
  return best;
}
