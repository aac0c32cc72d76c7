/** The candidates of a chord by the plain search, for pieces that are laid out way by way. */
import type { Chord } from '$lib/theory/chord';
import type { Engaged, Setup } from '$lib/setup/setup';
import { barTerms, heightTerms } from '$lib/effort/bar';
import { closeTerms, lowTerms } from '$lib/effort/clarity';
import type { SoundingHold } from '$lib/effort/move';
import { pickingTerms } from '$lib/effort/picking';
import { CLARITY_WEIGHTS, type Term } from '$lib/effort/weights';
import type { Wishes } from '$lib/arrange/wishes';
import { engagedOf } from './plainHolds';
import { plainOpen, plainSearch, plainSets } from './plainSearch';

export interface PlainCandidate {
  readonly hold: SoundingHold;
  /** All but what is engaged. */
  readonly terms: readonly Term[];
}

/** Strings that a raise and a lower move at once. */
const splitsOf = (setup: Setup, hold: SoundingHold): number =>
  hold.strings.filter((string) => {
    const alone = hold.engaged.map(
      (each: Engaged) =>
        plainOpen(setup, hold.neck, string, [each]) - plainOpen(setup, hold.neck, string, []),
    );
    return alone.some((move) => move > 0) && alone.some((move) => move < 0);
  }).length;

/** What its splits leave to the ear. */
export const splitTerm = (setup: Setup, hold: SoundingHold): Term => ({
  part: 'clarity',
  name: '',
  value: CLARITY_WEIGHTS.split * splitsOf(setup, hold),
});

/** Every voicing of a chord in every way, by the plain search. */
export function plainCandidates(setup: Setup, chord: Chord, wishes: Wishes): PlainCandidate[] {
  return setup.necks.flatMap((on, place) => {
    const neck = place + 1;
    const [found = []] = plainSearch(
      setup,
      { neck, frets: wishes.frets ?? [0, setup.frets], sizes: wishes.sizes },
      [{ sets: plainSets(chord, 'lean') }],
    );
    return found.flatMap(({ fret, strings, pitches, ways }) =>
      ways.map((way) => {
        const engaged = engagedOf(way);
        const ascending = [...pitches].sort((a, b) => a - b);
        const hold = { neck, fret, slant: 0, strings, pitches, engaged };
        const terms = [
          ...pickingTerms(on, strings),
          ...barTerms(setup, fret, undefined, 0),
          ...heightTerms(fret),
          ...closeTerms(ascending),
          ...lowTerms(ascending),
        ];
        return { hold, terms };
      }),
    );
  });
}
