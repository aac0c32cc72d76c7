/**
 * What says a chord: the sets of pitch classes that are it, all of it or less. Nothing here knows the names
 * of chords, so that a search needs none of their tables.
 */
import type { Chord, ChordTone } from './chord';
import { degreeParts, inDegreeOrder } from './degrees';
import { has, pcSetOf, sizeOf, type PcSet } from './pcset';

/** How much of a chord has to sound, from all of it to less. */
export const MATCHES = ['complete', 'lean', 'rootless'] as const;
/** How much of a chord has to sound; each takes in the ones before it. */
export type Match = (typeof MATCHES)[number];

/** A set of pitch classes that says the chord, and the degrees it does without. */
export interface AllowedSet {
  readonly set: PcSet;
  readonly missing: readonly string[];
}

/** Fewest pitch classes that still say a chord when tones are left out: two where a triad lacks its fifth alone. */
const enough = (set: PcSet, missing: readonly ChordTone[]): boolean =>
  sizeOf(set) >= 3 || (sizeOf(set) === 2 && missing.length === 1 && missing[0]?.degree === '5');

/** All sets of pitch classes that satisfy the chord, those with fewest tones missing first. */
export function allowedSets(chord: Chord, match: Match): AllowedSet[] {
  if (chord.eitherOf !== undefined) return alteredSets(chord, chord.eitherOf, match);
  const complete: AllowedSet = { set: chord.pitchClasses, missing: [] };
  if (match === 'complete') return [complete];
  const free = chord.tones.filter(
    (tone) => !tone.must && (match === 'rootless' || tone.role !== 'root'),
  );
  const lean: AllowedSet[] = [];
  for (let choice = 1; choice < 1 << free.length; choice++) {
    const missing = free.filter((_, index) => has(choice, index));
    const set = chord.pitchClasses & ~pcSetOf(missing.map((tone) => tone.chroma));
    if (!enough(set, missing)) continue;
    lean.push({ set, missing: missing.map((tone) => tone.degree) });
  }
  lean.sort((a, b) => a.missing.length - b.missing.length || a.set - b.set);
  return [complete, ...lean];
}

/** What is missing where nothing of a group of degrees sounds: `5` of ♭5 and ♯5. */
const groupText = (group: readonly string[]): string => String(degreeParts(group[0] ?? '5').number);

/** Degrees of a chord that a set of pitch classes lacks; of a group of which one is enough, its number. */
function missingIn({ tones, eitherOf = [] }: Chord, set: PcSet): string[] {
  const sounds = (degree: string): boolean =>
    tones.some((tone) => tone.degree === degree && has(set, tone.chroma));
  const grouped = eitherOf.flat();
  return inDegreeOrder([
    ...tones.flatMap(({ degree }) => (sounds(degree) || grouped.includes(degree) ? [] : [degree])),
    ...eitherOf.filter((group) => !group.some(sounds)).map(groupText),
  ]);
}

/**
 * The sets of a chord that leaves a choice. Its own tones have to sound but for the root; of each group
 * one or more, and where some tones may be missing one group is enough: a single altered tone over third
 * and seventh is heard as altered (common practice of harmony). Few tones stand before many.
 */
function alteredSets(
  chord: Chord,
  eitherOf: readonly (readonly string[])[],
  match: Match,
): AllowedSet[] {
  const grouped = eitherOf.flat();
  const free = chord.tones.filter(
    ({ degree, must, role }) =>
      !must && (grouped.includes(degree) || (role === 'root' && match === 'rootless')),
  );
  const sets: AllowedSet[] = [];
  for (let choice = 0; choice < 1 << free.length; choice++) {
    const left = free.filter((_, index) => has(choice, index));
    const set = chord.pitchClasses & ~pcSetOf(left.map((tone) => tone.chroma));
    const missing = missingIn(chord, set);
    const lacks = missing.filter((degree) => degree !== '1').length;
    if (lacks <= (match === 'complete' ? 0 : 1)) sets.push({ set, missing });
  }
  return sets.sort(
    (a, b) => a.missing.length - b.missing.length || sizeOf(a.set) - sizeOf(b.set) || a.set - b.set,
  );
}

/**
 * What one or two strings can say of a chord: any one of its tones, or any two; every other tone is
 * missing, be it the root or the third. A sixth, a third or a tenth is heard as the chord that the
 * others play (common practice of the trade).
 *
 * @param strings 1 or 2
 */
export function fewToneSets(chord: Chord, strings: number): AllowedSet[] {
  const found: AllowedSet[] = [];
  for (const [at, first] of chord.tones.entries())
    for (const second of strings === 1 ? [first] : chord.tones.slice(at + 1))
      found.push({
        set: pcSetOf([first.chroma, second.chroma]),
        missing: missingIn(chord, pcSetOf([first.chroma, second.chroma])),
      });
  return found;
}

/** Chords of five or more tones are usually played without some, the root first of all. */
export const defaultMatch = (chord: Chord): Match =>
  sizeOf(chord.pitchClasses) >= 5 ? 'rootless' : 'lean';
