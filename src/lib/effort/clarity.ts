/**
 * What a voicing leaves to the ear: tones of the chord that do not sound, tones so close that they rub,
 * a string that says nothing new, low thirds. It is no work of the hands, but a player takes a little
 * more of that for a chord that can be heard; so it is weighed in the same unit.
 */
import type { Chord } from '$lib/theory/chord';
import { degreeChroma } from '$lib/theory/degrees';
import { prettySymbol } from '$lib/theory/display';
import { pcSetOf, transpose, type PcSet } from '$lib/theory/pcset';
import type { Midi } from '$lib/theory/pitch';
import { CLARITY_WEIGHTS, LOWEST_CLEAR, type Term } from './weights';

const term = (name: string, value: number): Term => ({ part: 'clarity', name, value });

/** The words for a tone that is left out. */
const without = (degree: string): string =>
  degree === '1' ? 'without the root' : `without the ${prettySymbol(degree)}`;

/** Pitch classes above their root: major, minor, diminished, and the suspended fourth. */
const TRIADS: readonly PcSet[] = [
  ['1', '3', '5'],
  ['1', 'b3', '5'],
  ['1', 'b3', 'b5'],
  ['1', '4', '5'],
].map((degrees) => pcSetOf(degrees.map(degreeChroma)));

/** Are these tones, the first of them the root, a whole triad or suspension on another root? */
function isTriadElsewhere(tones: Chord['tones']): boolean {
  const set = pcSetOf(tones.map(({ chroma }) => chroma));
  return tones.slice(1).some(({ chroma }) => TRIADS.includes(transpose(set, -chroma)));
}

/**
 * The terms of leaving tones of a chord out; none where it is complete.
 *
 * @param missing degrees of the chord, as a voicing tells them
 */
export function missingTerms({ tones, eitherOf = [] }: Chord, missing: readonly string[]): Term[] {
  const terms = missing.map((degree) => {
    const tone = tones.find((each) => each.degree === degree);
    // a group of which one would be enough is told by its number, which is no tone
    return tone === undefined
      ? term(`without an altered ${degree}`, CLARITY_WEIGHTS.alteration)
      : term(without(degree), worthOf(tone));
  });
  const sounds = (degree: string): boolean =>
    tones.some((tone) => tone.degree === degree) && !missing.includes(degree);
  const rootless = missing.includes('1');
  const isOther = rootless
    ? !(sounds('3') && sounds('b7'))
    : missing.length > 0 && isTriadElsewhere(tones.filter(({ degree }) => sounds(degree)));
  if (isOther) terms.push(term('heard as another chord', CLARITY_WEIGHTS.otherChord));
  const fifthless = missing.includes('5') || !['b5', '5', '#5'].some(sounds);
  // two notes stand on nothing anyway, and of a seventh chord third and seventh say most
  const fewest = tones.length - eitherOf.flat().length + eitherOf.length - missing.length;
  if (rootless && fifthless && fewest > 2)
    terms.push(term('neither root nor fifth', CLARITY_WEIGHTS.afloat));
  return terms;
}

/** What a tone is worth to its chord. */
function worthOf({ degree, must }: Chord['tones'][number]): number {
  if (degree === '1') return CLARITY_WEIGHTS.root;
  if (degree === '5') return CLARITY_WEIGHTS.fifth;
  return must ? CLARITY_WEIGHTS.telling : CLARITY_WEIGHTS.inner;
}

/** The terms of tones that lie close; none where all are a third apart or more. Pitches ascend. */
export function closeTerms(pitches: readonly Midi[]): Term[] {
  const terms: Term[] = [];
  const steps = pitches.slice(1).map((pitch, below) => pitch - (pitches[below] as Midi));
  const add = (name: string, value: number, many: number): void => {
    if (many > 0) terms.push(term(many === 1 ? name : `${many} × ${name}`, value * many));
  };
  const ofSize = (size: number): number => steps.filter((step) => step === size).length;
  // in the closest rub a whole chord is blurred, so it counts once for each pair
  add('a unison', CLARITY_WEIGHTS.unison, ofSize(0));
  add('a semitone between neighbours', CLARITY_WEIGHTS.semitone, ofSize(1));
  add('a whole tone between neighbours', CLARITY_WEIGHTS.wholeTone, ofSize(2));
  const inCluster = steps.filter((step, at) => {
    const next = steps[at + 1];
    return next !== undefined && step > 0 && next > 0 && step <= 2 && next <= 2;
  }).length;
  add('a cluster', CLARITY_WEIGHTS.cluster, inCluster);
  return terms;
}

/**
 * From which fret a voicing has no seconds and thirds below where they are clear, its pitches
 * (ascending) being those at the nut. 0 where it never has.
 */
export const clearFrom = (atNut: readonly Midi[]): number =>
  atNut.reduce((fret, low, at) => Math.max(fret, (limitAbove(atNut, at) ?? -Infinity) - low), 0);

/** The pitch at which the interval above a tone begins to be clear. */
const limitAbove = (pitches: readonly Midi[], at: number): Midi | undefined =>
  LOWEST_CLEAR[(pitches[at + 1] ?? Infinity) - (pitches[at] as Midi)];

/** The terms of seconds and thirds that lie too low to be heard apart. Pitches ascend. */
export function lowTerms(pitches: readonly Midi[]): Term[] {
  let semitones = 0;
  pitches.forEach((low, at) => {
    semitones += Math.max(0, (limitAbove(pitches, at) ?? -Infinity) - low);
  });
  return semitones === 0
    ? []
    : [term('seconds or thirds too low', CLARITY_WEIGHTS.lowPerSemitone * semitones)];
}

/** The terms of strings between a raise and a lower; so many of those that are picked. */
export const splitTerms = (many: number): Term[] =>
  many === 0 ? [] : [term(many === 1 ? 'a split' : `${many} splits`, CLARITY_WEIGHTS.split * many)];

/** All terms of a voicing of a chord; the pitches in any order; of its strings so many are split. */
export function clarityTerms(
  chord: Chord,
  missing: readonly string[],
  pitches: readonly Midi[],
  splits = 0,
): Term[] {
  const ascending = [...pitches].sort((a, b) => a - b);
  return [
    ...missingTerms(chord, missing),
    ...closeTerms(ascending),
    ...lowTerms(ascending),
    ...splitTerms(splits),
  ];
}
