/** What a setup covers of a repertoire: by chord type, by pocket of a key, and from chord to chord. */
import type { Key } from '$lib/theory/spelling';
import type { Setup } from '$lib/setup/setup';
import { chordsOfKey } from '$lib/theory/keyChords';
import { USUAL_KEY, type PocketWidth } from './pocketWishes';
import { pocketsOf, type Pocket } from './pockets';
import type { Repertoire } from '$lib/theory/repertoire';
import { countedShapes } from './typeShapes';
import { travelsOf, type Travels } from './travel';
import { coverType, type TypeCoverage } from './types';
import { wantedType } from '$lib/theory/wantedType';

export interface CoverageOptions {
  /** The key of the pockets; the bar transposes, so another key is the same picture moved. */
  readonly key?: Key;
  /** Default 0. */
  readonly pocket?: PocketWidth;
  /** Voicings that cost more are not counted; all are where it is left out. */
  readonly mostEffort?: number;
}

export interface Coverage {
  readonly setup: Setup;
  /** In the repertoire's order. */
  readonly types: readonly TypeCoverage[];
  readonly pockets: readonly Pocket[];
  readonly travel: Travels;
}

/**
 * Counts what a setup can play of a repertoire, type by type in the repertoire’s order, over all roots
 * and all frets of the setup; which chords of a key lie at one bar position; and how far the bar goes,
 * in millimetres, from chord to chord. `mostEffort` is an effort as players read it (1 is one easy
 * pedal), and what costs more is as if it were not there. Everything is counted, nothing estimated.
 */
export function coverageOf(
  setup: Setup,
  repertoire: Repertoire,
  { key = USUAL_KEY, pocket = 0, mostEffort }: CoverageOptions = {},
): Coverage {
  const shapes = countedShapes(setup, mostEffort);
  return {
    setup,
    types: repertoire.map(({ type }) => coverType(shapes, wantedType(type))),
    pockets: pocketsOf(shapes, chordsOfKey(key), pocket),
    travel: travelsOf(shapes, repertoire),
  };
}
