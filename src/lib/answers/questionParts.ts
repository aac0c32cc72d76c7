/**
 * How the parts of a question are written: small texts, read into values or `undefined`. What a text
 * looks like is told apart from whether a setup can give it.
 */
import { chromaOfName, parseNoteName, parsePitch } from '$lib/theory/pitch';
import type { WantedNote } from '$lib/search/find';
import { PARTS, type Balance } from '$lib/effort/weights';

// What texts look like before they are held against a setup.

/** `7` or `3-9`. */
export const RANGE = /^\s*\d{1,3}\s*(?:[-–]\s*\d{1,3}\s*)?$/;
/** `7` */
export const WHOLE = /^\s*\d{1,3}\s*$/;
/** `3,4,5` */
export const LIST_OF_WHOLES = /^[\s\d,]+$/;

/** Items between commas; empty ones are passed over. */
export const listOf = (text: string): string[] =>
  text
    .split(',')
    .map((item) => item.trim())
    .filter((item) => item !== '');

/** The one of some words that a text is, letter for letter. */
export const oneOf = <T extends string>(words: readonly T[], text: string | null): T | undefined =>
  words.find((each) => each === text);

/** `7` or `3-9`, within bounds. */
export function readRange(
  text: string,
  [least, most]: readonly [number, number],
): readonly [number, number] | undefined {
  if (!RANGE.test(text)) return undefined;
  const [first = NaN, last = first] = text.split(/[-–]/).map(Number);
  return first >= least && first <= last && last <= most ? [first, last] : undefined;
}

/** A whole number within bounds. */
export const readWhole = (text: string, least: number, most: number): number | undefined =>
  WHOLE.test(text) ? readRange(text, [least, most])?.[0] : undefined;

/** Whole numbers within bounds, with commas between them. */
export function readWholes(text: string, least: number, most: number): number[] | undefined {
  const numbers = listOf(text).map((item) => readWhole(item, least, most));
  return numbers.every((number) => number !== undefined) ? numbers : undefined;
}

/** A pitch such as E4, or a note name for every octave. */
export function readNote(text: string): WantedNote | undefined {
  const pitch = parsePitch(text);
  if (pitch) return { midi: pitch.midi };
  const name = parseNoteName(text);
  return name && { chroma: chromaOfName(name) };
}

/** What factors of these parts look like: `feet=2,bar=0.5`. */
export function factorsForm(parts: readonly string[]): RegExp {
  const factor = `(?:${parts.join('|')})=\\d+(?:\\.\\d+)?`;
  return new RegExp(`^\\s*${factor}(?:\\s*,\\s*${factor})*\\s*$`);
}

/** Factors from 0 to 10 of named parts; those that are left out stay as they are in `even`. */
export function readFactors<Part extends string>(
  text: string,
  even: Readonly<Record<Part, number>>,
): Readonly<Record<Part, number>> | undefined {
  const factors: { -readonly [part in Part]: number } = { ...even };
  for (const item of listOf(text)) {
    const [, part = '', number] = /^([a-z]+)=(\d+(?:\.\d+)?)$/.exec(item) ?? [];
    if (!Object.hasOwn(even, part) || Number(number) > 10) return undefined;
    factors[part as Part] = Number(number);
  }
  return factors;
}

/** A balance back into text; empty where all parts are at 1. */
export const balanceText = (balance: Balance): string =>
  PARTS.filter((part) => balance[part] !== 1)
    .map((part) => `${part}=${balance[part]}`)
    .join(',');

/** Strings of a neck, in any order, each once. */
export function readStrings(text: string, count: number): readonly number[] | undefined {
  const strings = readWholes(text, 1, count) ?? [];
  if (strings.length === 0) return undefined;
  const sorted = [...new Set(strings)].sort((a, b) => a - b);
  return sorted.length === strings.length ? sorted : undefined;
}
