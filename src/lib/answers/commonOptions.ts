/** The options that questions of several kinds share, each told once. */
import { MATCHES, type Match } from '$lib/theory/allowedSets';
import { readKey, type Key } from '$lib/theory/spelling';
import { keyOtherwise, noteOtherwise } from '$lib/theory/typedNames';
import type { Setup } from '$lib/setup/setup';
import type { WantedNote } from '$lib/search/find';
import type { PlainOption } from './options';
import {
  LIST_OF_WHOLES,
  RANGE,
  WHOLE,
  factorsForm,
  listOf,
  oneOf,
  readFactors,
  readNote,
  readRange,
  readStrings,
  readWhole,
} from './questionParts';

/** Fewest and most strings that can be asked for at once: a melody is one. */
export const STRINGS_AT_ONCE: readonly [number, number] = [1, 6];
/** The same where chords are looked for. */
const STRINGS_OF_CHORDS: readonly [number, number] = [2, 6];

/** A whole number within bounds. */
export const wholeOption = (
  [least, most]: readonly [number, number],
  allowed: string,
): PlainOption<number> => ({
  form: WHOLE,
  read: (text) => readWhole(text, least, most),
  allowed: () => allowed,
});

/** One of some words. */
export const wordOption = <T extends string>(
  words: readonly T[],
  allowed = words.join(', '),
): PlainOption<T> => ({ read: (text) => oneOf(words, text), allowed: () => allowed });

/** A key, major or minor. */
export const KEY: PlainOption<Key> = {
  read: (text) => {
    const key = readKey(text);
    return key.ok ? key.value : undefined;
  },
  allowed: () => 'a key such as Eb or F#m',
  otherwise: keyOtherwise,
};

/** A neck, counted from 1. */
export const NECK: PlainOption<number> = {
  form: WHOLE,
  read: (text, { necks }) => readWhole(text, 1, necks.length),
  allowed: ({ necks }) =>
    necks.length === 1 ? '1, the only neck' : `a neck, 1 to ${necks.length}`,
};

/** Frets where the bar may go. */
export const fretsOption = (example: string): PlainOption<readonly [number, number]> => ({
  form: RANGE,
  read: (text, { frets }) => readRange(text, [0, frets]),
  allowed: ({ frets }) => `a fret or a range such as ${example}, within 0-${frets}`,
});

/** One fret; 0 is the nut. */
export const FRET: PlainOption<number> = {
  form: WHOLE,
  read: (text, { frets }) => readWhole(text, 0, frets),
  allowed: ({ frets }) => `a fret, 0 to ${frets}`,
};

const sizesOption = (
  within: readonly [number, number],
): PlainOption<readonly [number, number]> => ({
  form: RANGE,
  read: (text) => readRange(text, within),
  allowed: () => `a number of strings or a range such as 3-4, within ${within.join('-')}`,
});

/** Fewest and most strings at once. */
export const SIZES = sizesOption(STRINGS_AT_ONCE);
/** The same where chords follow one another, or are counted. */
export const CHORD_SIZES = sizesOption(STRINGS_OF_CHORDS);

/** How much of a chord has to sound. */
export const MATCH: PlainOption<Match> = {
  // `lean` is what a partial voicing was called before; addresses, links and scripts of then still say so
  read: (text) => (text === 'partial' ? 'lean' : oneOf(MATCHES, text)),
  allowed: () => 'complete, partial, rootless',
};

/** A switch. */
export const ON_OR_OFF: PlainOption<boolean> = {
  read: (text) => (text === 'on' ? true : text === 'off' ? false : undefined),
  allowed: () => 'on or off',
};

/** A pitch, or a note in any octave. */
export const noteOption = (example: string): PlainOption<WantedNote> => ({
  read: readNote,
  allowed: () => `a note such as ${example}, or E for any octave`,
  otherwise: noteOtherwise,
});

/** Ids of controls that are not to be used. */
export const WITHOUT: PlainOption<readonly string[]> = {
  form: /./,
  read: (text, { controls }) => {
    const ids = listOf(text);
    return ids.every((each) => controls.some(({ id }) => id === each)) ? ids : undefined;
  },
  allowed: ({ controls }) =>
    controls.length === 0
      ? 'nothing: this setup has no controls'
      : `ids of controls: ${controls.map(({ id }) => id).join(', ')}`,
};

/** Most strings on one of these necks, counted from 1; on any neck where none are named. */
function mostStrings({ necks }: Setup, numbers?: readonly number[]): number {
  const these = necks.filter((_, index) => numbers?.includes(index + 1) ?? true);
  return Math.max(...these.map(({ strings }) => strings.length));
}

/** Strings of these necks. */
export const stringsOption = (necks: readonly number[]): PlainOption<readonly number[]> => ({
  form: LIST_OF_WHOLES,
  read: (text, setup) => readStrings(text, mostStrings(setup, necks)),
  allowed: (setup) => `strings such as 3,4,5, each once, within 1-${mostStrings(setup, necks)}`,
});

/** Grips such as `3-4-5,6-8-10`, of any neck. */
export const GRIPS: PlainOption<readonly (readonly number[])[]> = {
  form: /^[\s\d,-]+$/,
  read: (text, setup) => {
    const most = mostStrings(setup);
    const grips = listOf(text).map((grip) => readStrings(grip.replaceAll('-', ','), most));
    return grips.every((grip) => grip !== undefined) ? grips : undefined;
  },
  allowed: (setup) => `grips such as 3-4-5,6-8-10, of strings 1 to ${mostStrings(setup)}`,
};

/** How much each part of the work counts: `feet=2,bar=0.5`; what is not named counts as in `even`. */
export const balanceOption = <Part extends string>(
  even: Readonly<Record<Part, number>>,
): PlainOption<Readonly<Record<Part, number>>> => {
  const parts = Object.keys(even);
  return {
    form: factorsForm(parts),
    read: (text) => readFactors(text, even),
    allowed: () => `parts and factors from 0 to 10, such as feet=2,bar=0.5 (${parts.join(', ')})`,
  };
};
