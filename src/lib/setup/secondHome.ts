/** The second tuning that a universal neck carries. */
import { has, pcSetOf, transpose } from '$lib/theory/pcset';
import { chromaOf, type Chroma } from '$lib/theory/pitch';
import { isHand, isPedal, openMidi, type Engaged, type Setup } from './setup';
import { farthest } from './sounding';

/** A tuning within a tuning: what a neck is while one lever stays engaged. */
export interface SecondHome {
  /** The lever's id. */
  readonly lever: string;
  /** At the nut: the roots of the major and the minor chord that lie under the bar. */
  readonly roots: readonly Chroma[];
  /** The strings of its chord, from string 1 on. */
  readonly strings: readonly number[];
}

const SIXTH = pcSetOf([0, 4, 7, 9]);

/** One tuning has ten strings at most; a neck with more carries another (common practice of the trade). */
const STRINGS_OF_ONE_TUNING = 10;

/** The sixth chord that most pitches belong to, and their strings. */
function bestSixth(pitches: readonly number[]): { root: Chroma; strings: number[] } {
  let best = { root: 0, strings: [] as number[] };
  for (let root = 0; root < 12; root++) {
    const set = transpose(SIXTH, root);
    const strings = pitches.flatMap((pitch, s) => (has(set, chromaOf(pitch)) ? [s + 1] : []));
    if (strings.length > best.strings.length) best = { root, strings };
  }
  return best;
}

/**
 * The second tuning of a universal neck: with one knee lever engaged, which players lock or hold for a whole
 * song, all its strings but one make a sixth chord, more than released, and the bar finds major and relative minor
 * where that chord lies (E9 with its E strings lowered is B6). None on a neck of ten strings or fewer: there
 * such a lever is one among others.
 *
 * @param number the neck's, from 1
 */
export function secondHome(setup: Setup, number: number): SecondHome | undefined {
  const neck = setup.necks[number - 1];
  if (neck === undefined || neck.strings.length <= STRINGS_OF_ONE_TUNING) return undefined;
  const open = openMidi(neck);
  let most = Math.max(bestSixth(open).strings.length, open.length - 2);
  let second: SecondHome | undefined;
  for (const { id, station } of setup.controls) {
    if (isPedal(station) || isHand(station)) continue;
    const { raise, lower } = farthest(setup, number, [{ id, state: 'full' }]);
    const { root, strings } = bestSixth(
      open.map((pitch, s) => pitch + (raise[s] ?? 0) + (lower[s] ?? 0)),
    );
    if (strings.length <= most) continue;
    most = strings.length;
    second = { lever: id, roots: [root, chromaOf(root + 9)], strings };
  }
  return second;
}

/** Is a neck in its second home under these controls? */
export const isInSecondHome = (
  { lever }: Pick<SecondHome, 'lever'>,
  engaged: readonly Engaged[],
): boolean => engaged.some(({ id, state }) => id === lever && state === 'full');
