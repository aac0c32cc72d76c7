/**
 * How many voicings a setup has of each chord type, on all twelve roots and along the whole neck: the
 * sum of what the search finds for the type on each root. The bar carries a voicing to every fret, so
 * those at the nut are counted and multiplied.
 */
import { allowedSets, defaultMatch, type AllowedSet } from '$lib/theory/chord';
import { transpose } from '$lib/theory/pcset';
import { readChord } from '$lib/theory/readChord';
import type { Setup } from '$lib/setup/setup';
import { slantFits } from '$lib/search/find';
import { nutIndex, type NutIndex } from '$lib/search/nutIndex';
import { feetEffort } from '$lib/effort/feet';
import type { Repertoire } from './repertoire';

export interface TypeTally {
  /** Canonical suffix. */
  readonly type: string;
  readonly voicings: number;
}

const sets = new Map<string, readonly AllowedSet[]>();

/** The sets of pitch classes that say a type on C; looked up once. */
function setsOf(type: string): readonly AllowedSet[] {
  let known = sets.get(type);
  if (known === undefined) {
    const read = readChord(`C${type}`);
    if (!read.ok || read.value === 'no chord') throw new Error(`“${type}” is no chord type`);
    known = allowedSets(read.value, defaultMatch(read.value));
    sets.set(type, known);
  }
  return known;
}

/** By voicing number 0 (straight) and every slant: at how many frets the bar can lie so. */
const fretsBySlant = ({ slants }: NutIndex, frets: number): number[] => [
  frets + 1,
  ...slants.map(
    ({ ahead }) =>
      Array.from({ length: frets + 1 }, (_, fret) => fret).filter((fret) =>
        slantFits(ahead, fret, [0, frets]),
      ).length,
  ),
];

/** Voicings of a type on one neck. */
function voicingsOf(index: NutIndex, places: readonly number[], type: string): number {
  const { from, byPcs, slant } = index;
  let count = 0;
  for (let root = 0; root < 12; root++)
    for (const { set } of setsOf(type)) {
      const onRoot = transpose(set, root);
      const end = from[onRoot + 1] as number;
      if (index.slants.length === 0) count += (end - (from[onRoot] as number)) * (places[0] ?? 0);
      else
        for (let at = from[onRoot] as number; at < end; at++)
          count += places[slant[byPcs[at] as number] as number] ?? 0;
    }
  return count;
}

/** Every neck counts; grips and slants as the search takes them where nothing is asked. */
export function tallyOf(setup: Setup, repertoire: Repertoire): TypeTally[] {
  const necks = setup.necks.map((_, neck) => {
    const index = nutIndex(setup, neck + 1, (engaged) => feetEffort(setup, engaged));
    return { index, places: fretsBySlant(index, setup.frets) };
  });
  return repertoire.map(({ type }) => ({
    type,
    voicings: necks.reduce((sum, { index, places }) => sum + voicingsOf(index, places, type), 0),
  }));
}
