/**
 * Two setups on the same measures: coverage of each, one number for each measure, chord types and
 * pockets where they differ most first, and the sounds that tell them apart.
 */
import type { Setup } from '$lib/setup/setup';
import { coverageOf, type Coverage, type CoverageOptions } from './coverage';
import type { ListName } from './listNames';
import { USUAL_KEY } from './pocketWishes';
import { pocketDifferences, typeDifferences } from './differences';
import type { PocketDifference, TypeDifference } from './differences';
import { measured, type Measured } from './measures';
import type { Repertoire } from '$lib/theory/repertoire';
import { soundLists, type SoundList } from './soundLists';
import { soundsOf } from './sounds';
import { countedShapes } from './typeShapes';

/** The first setup or the second. */
export type Side = 'a' | 'b';

export interface Comparison extends Readonly<Record<ListName, SoundList>> {
  readonly a: Coverage;
  readonly b: Coverage;
  readonly measures: { readonly a: Measured; readonly b: Measured };
  /** Most different first. */
  readonly types: readonly TypeDifference[];
  readonly pockets: readonly PocketDifference[];
}

/** Everything in which two setups differ over a repertoire. */
export function compare(
  a: Setup,
  b: Setup,
  repertoire: Repertoire,
  options: CoverageOptions = {},
): Comparison {
  const covered = {
    a: coverageOf(a, repertoire, options),
    b: coverageOf(b, repertoire, options),
  };
  const soundsA = soundsOf(countedShapes(a, options.mostEffort), repertoire);
  const soundsB = soundsOf(countedShapes(b, options.mostEffort), repertoire);
  const key = options.key ?? USUAL_KEY;
  const ofA = soundLists({ here: soundsA, there: soundsB, repertoire, key });
  const ofB = soundLists({ here: soundsB, there: soundsA, repertoire, key });
  return {
    ...covered,
    measures: { a: measured(covered.a, repertoire), b: measured(covered.b, repertoire) },
    types: typeDifferences(covered.a, covered.b, repertoire),
    pockets: pocketDifferences(covered.a, covered.b),
    onlyA: ofA.only,
    onlyB: ofB.only,
    easierA: ofA.easier,
    easierB: ofB.easier,
  };
}
