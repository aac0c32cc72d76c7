/** What a bar position asks of the left hand. */
import type { Chord } from '$lib/theory/chord';
import { chromaOf, chromaOfName, type Chroma } from '$lib/theory/pitch';
import { homeRoots } from '$lib/setup/homeChord';
import { fretMm, type Neck, type Setup } from '$lib/setup/setup';
import { PLACE_WEIGHTS, WEIGHTS, type Term } from './weights';

/**
 * The terms of bringing the bar to a fret: the way there from where it is (`home`; no term when that
 * is not known), the reach up the neck, a slant (frets by which the far end leads).
 */
export function barTerms(setup: Setup, fret: number, home: number | undefined, slant = 0): Term[] {
  const terms: Term[] = [];
  const add = (name: string, value: number): void => {
    if (value > 0) terms.push({ part: 'bar', name, value });
  };
  if (home !== undefined) {
    const mm = Math.abs(fretMm(fret, setup.scaleLengthMm) - fretMm(home, setup.scaleLengthMm));
    add(`${Math.round(mm)} mm from fret ${home}`, WEIGHTS.barPerMm * mm);
  }
  add('up the neck', WEIGHTS.fretBeyondTwelve * Math.max(0, fret - 12));
  if (slant !== 0) {
    const at = (place: number): number => fretMm(place, setup.scaleLengthMm);
    const mm = Math.abs(at(fret + slant) - at(fret));
    add('slanted bar', WEIGHTS.slant);
    add(`over ${Math.round(mm)} mm`, WEIGHTS.slantPerMm * mm);
  }
  if (slant < 0) add('slanted backwards', WEIGHTS.reverseSlant);
  return terms;
}

/** The term of a place high on the neck in a piece, beside the reach; none up to the twelfth fret. */
export const heightTerms = (fret: number): Term[] =>
  fret <= 12
    ? []
    : [{ part: 'bar', name: 'high on the neck', value: PLACE_WEIGHTS.high * (fret - 12) }];

/**
 * The term of a chord that is not at its root's own fret: where the chord of that root lies open a player
 * finds it at once, and every other position is reckoned from there. None where the chord's root is one of
 * the tuning's home chord at the fret.
 *
 * @param second at the nut, the roots of the neck's second home, where its lever is engaged
 */
export function findingTerms(
  neck: Neck,
  { root }: Pick<Chord, 'root'>,
  fret: number,
  second: readonly Chroma[] = [],
): Term[] {
  const atNut = chromaOf(chromaOfName(root) - fret);
  return homeRoots(neck).includes(atNut) || second.includes(atNut)
    ? []
    : [{ part: 'bar', name: 'not where its root lies open', value: WEIGHTS.elsewhere }];
}
