/** What a chord book is to hold, as the terminal's options and the page's address write it. */
import { ok, refuse, type Result } from '$lib/result';
import { noteName } from '$lib/theory/pitch';
import { EVERYDAY_REPERTOIRE, readType, typeText } from '$lib/theory/repertoire';
import { USUAL_SCALES, scaleTypeNamed } from '$lib/theory/scales';
import { commonRoot, parseKey, type Key } from '$lib/theory/spelling';
import { keyOtherwise } from '$lib/theory/typedNames';
import type { Setup } from '$lib/setup/setup';
import { LADDER_INTERVALS, type LadderInterval } from '$lib/scales/ladders';
import { wholeOption } from './commonOptions';
import { readOptions, type OptionFault, type PlainOption, type TextsOf } from './options';

/** The sections that there are, in their order. */
export const BOOK_PARTS = ['first', 'chords', 'levers', 'ladders', 'scales'] as const;
export type BookPart = (typeof BOOK_PARTS)[number];

/** The sections as people read them. */
export const BOOK_PART_NAMES: Readonly<Record<BookPart, string>> = {
  first: 'First ten positions',
  chords: 'Chords',
  levers: 'What each pedal and lever is for',
  ladders: 'Ladders',
  scales: 'Scales',
};

/** What a book is to hold. */
export interface BookQuestion {
  readonly parts: readonly BookPart[];
  /** Canonical suffixes. */
  readonly types: readonly string[];
  readonly key: Key;
  /** The chords stand on every root, not only on those of the key. */
  readonly allKeys: boolean;
  /** Positions of each chord. */
  readonly positions: number;
  readonly ladders: readonly LadderInterval[];
  /** Names of kinds of scales. */
  readonly scales: readonly string[];
}

/** Positions of one chord: a row of necks, or up to three. */
export const POSITIONS = { usual: 4, least: 1, most: 12 } as const;
/** Types of chords in one book. */
const MOST_TYPES = 24;

/** The types that most songs are made of. */
export const USUAL_TYPES: readonly string[] = ['', 'm', '7', 'm7', 'maj7'];
const USUAL_LADDERS: readonly LadderInterval[] = ['thirds', 'sixths', 'triads'];
const SCALES_BY_MODE = {
  major: ['major', 'major pentatonic', 'mixolydian', 'major blues'],
  minor: ['minor', 'minor pentatonic', 'dorian', 'minor blues'],
} as const;

/** Texts between commas, each once; `undefined` where one of them cannot be read. */
function listRead<T>(
  text: string,
  read: (each: string) => T | undefined,
): readonly T[] | undefined {
  const all = text.split(',').map((each) => read(each.trim()));
  return all.includes(undefined) ? undefined : [...new Set(all as T[])];
}

const oneOfList = <T extends string>(words: readonly T[]): PlainOption<readonly T[]> => ({
  read: (text) => {
    const all = listRead(text, (each) => words.find((word) => word === each.toLowerCase()));
    // in their own order, whatever order they are asked in
    return all && words.filter((word) => all.includes(word));
  },
  allowed: () => `some of ${words.join(', ')}, with commas between them`,
});

const TYPES: PlainOption<readonly string[]> = {
  read: (text) => {
    const all =
      text === 'everyday' ? EVERYDAY_REPERTOIRE.map(({ type }) => type) : listRead(text, readType);
    return all === undefined || all.length > MOST_TYPES ? undefined : all;
  },
  allowed: () =>
    `up to ${MOST_TYPES} types of chords with commas between them, such as ${USUAL_TYPES.map(typeText).join(',')}, or everyday`,
};

/** A key, or the word `all`. */
const BOOK_KEY: PlainOption<Key | 'all'> = {
  read: (text) => (text.toLowerCase() === 'all' ? 'all' : parseKey(text)),
  allowed: () => 'a key such as Eb or F#m, or all',
  otherwise: keyOtherwise,
};

const SCALES: PlainOption<readonly string[]> = {
  read: (text) => listRead(text, (each) => scaleTypeNamed(each.toLowerCase())?.name),
  allowed: () =>
    `kinds of scales with commas between them, such as ${USUAL_SCALES.slice(0, 4).join(', ')}`,
};

const OPTIONS = {
  parts: oneOfList(BOOK_PARTS),
  types: TYPES,
  key: BOOK_KEY,
  positions: wholeOption(
    [POSITIONS.least, POSITIONS.most],
    `a number of positions, ${POSITIONS.least} to ${POSITIONS.most}`,
  ),
  ladders: oneOfList(LADDER_INTERVALS),
  scales: SCALES,
} as const;

/** The question as texts; each part may be left out. */
export type BookTexts = TextsOf<keyof typeof OPTIONS>;
export type BookFault = OptionFault<keyof typeof OPTIONS>;

/** The keys that are offered, by their usual names: major ones, then minor ones. */
export const KEYS: readonly Key[] = (['major', 'minor'] as const).flatMap((mode) =>
  Array.from({ length: 12 }, (_, chroma): Key => ({
    tonic: commonRoot(chroma, mode === 'minor' ? 'm' : ''),
    mode,
  })),
);

const C_MAJOR: Key = { tonic: noteName('C', 0), mode: 'major' };

/** Reads what a book is to hold; every fault is told. */
export function readBookQuestion(
  setup: Setup,
  texts: BookTexts,
): Result<BookQuestion, readonly BookFault[]> {
  const { values, faults } = readOptions(OPTIONS, setup, texts);
  if (faults.length > 0) return refuse(faults);
  const { key: asked } = values;
  const key = asked === undefined || asked === 'all' ? C_MAJOR : asked;
  return ok({
    parts: values.parts ?? BOOK_PARTS,
    types: values.types ?? USUAL_TYPES,
    key,
    allKeys: asked === 'all',
    positions: values.positions ?? POSITIONS.usual,
    ladders: values.ladders ?? USUAL_LADDERS,
    scales: values.scales ?? SCALES_BY_MODE[key.mode],
  });
}
