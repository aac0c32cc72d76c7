/**
 * How the parts of a question are written: small texts, read into values or `undefined`. What a text
 * looks like is told apart from whether a setup can give it.
 */
import { chromaOfName, parseNoteName, parsePitch } from '$lib/theory/pitch';
import type { WantedNote } from '$lib/search/find';
import { EVEN, PARTS, type Balance } from '$lib/effort/weights';

// What each part looks like before it is held against a setup.
export const RANGE = /^\s*\d{1,3}\s*(?:[-–]\s*\d{1,3}\s*)?$/;
export const WHOLE = /^\s*\d{1,3}\s*$/;
export const WHOLES = /^[\s\d,]+$/;
export const BALANCE =
  /^\s*(?:feet|picking|bar)=\d+(?:\.\d+)?(?:\s*,\s*(?:feet|picking|bar)=\d+(?:\.\d+)?)*\s*$/;
export const ANY = /^/;

/** Items between commas; empty ones are passed over. */
export const listOf = (text: string): string[] =>
  text
    .split(',')
    .map((item) => item.trim())
    .filter((item) => item !== '');

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
export const readWhole = (text: string, least: number, most: number): number | undefined => {
  const range = /^\s*\d+\s*$/.test(text) ? readRange(text, [least, most]) : undefined;
  return range?.[0];
};

/** A pitch such as E4, or a note name for every octave. */
export function readNote(text: string): WantedNote | undefined {
  const pitch = parsePitch(text);
  if (pitch) return { midi: pitch.midi };
  const name = parseNoteName(text);
  return name && { chroma: chromaOfName(name) };
}

/** `feet=2,bar=0.5`: parts that are left out stay at 1. */
export function readBalance(text: string): Balance | undefined {
  const balance = { ...EVEN } as { -readonly [part in keyof Balance]: number };
  for (const item of listOf(text)) {
    const match = /^(feet|picking|bar)=(\d+(?:\.\d+)?)$/.exec(item);
    const value = Number(match?.[2]);
    if (!match || value > 10) return undefined;
    balance[match[1] as keyof Balance] = value;
  }
  return balance;
}

/** The same back into text; empty where all parts are at 1. */
export const balanceText = (balance: Balance): string =>
  PARTS.filter((part) => balance[part] !== 1)
    .map((part) => `${part}=${balance[part]}`)
    .join(',');

/** Strings of a neck, in any order, each once. */
export function readStrings(text: string, count: number): readonly number[] | undefined {
  const strings = listOf(text).map((item) => readWhole(item, 1, count));
  if (strings.length === 0 || strings.includes(undefined)) return undefined;
  const sorted = [...new Set(strings as number[])].sort((a, b) => a - b);
  return sorted.length === strings.length ? sorted : undefined;
}
