/** What a grip asks of the picking hand. */
import { chromaOf } from '$lib/theory/pitch';
import { has } from '$lib/theory/pcset';
import { homeChord } from '$lib/setup/homeChord';
import type { Neck } from '$lib/setup/setup';
import { WEIGHTS, type Term } from './weights';

/** The strings of the home chord, from string 1 on. The hand knows them as one row. */
export function homeStrings(neck: Neck): readonly number[] {
  const home = homeChord(neck);
  return neck.strings.flatMap((string, index) =>
    has(home, chromaOf(string.open.midi)) ? [index + 1] : [],
  );
}

/**
 * An everyday grip is made of neighbours in the row of home strings, two to four of them. On E9 the
 * everyday grips of three are 3-4-5, 4-5-6, 5-6-8 and 6-8-10 (common practice of the trade).
 */
export function isEveryday(
  neck: Neck,
  strings: readonly number[],
  home = homeStrings(neck),
): boolean {
  if (strings.length < 2 || strings.length > 4) return false;
  const first = home.indexOf(strings[0] ?? 0);
  return first >= 0 && strings.every((string, index) => home[first + index] === string);
}

/**
 * The terms of picking some strings, numbered from 1 and ascending.
 *
 * @param home the neck's home strings, handed in where many grips are priced
 * @param second the strings of the neck's second home, where its lever is engaged: a row of its own
 */
export function pickingTerms(
  neck: Neck,
  strings: readonly number[],
  home = homeStrings(neck),
  second: readonly number[] = [],
): Term[] {
  const terms: Term[] = [];
  const add = (name: string, value: number): void => {
    if (value > 0) terms.push({ part: 'picking', name, value });
  };
  const most = WEIGHTS.strings.length - 1;
  add(`${strings.length} strings at once`, WEIGHTS.strings[Math.min(strings.length, most)] ?? 0);
  if (isEveryday(neck, strings, home) || isEveryday(neck, strings, second)) return terms;
  const span = (strings.at(-1) ?? 0) - (strings[0] ?? 0) + 1;
  const skipped = span - strings.length;
  if (strings.length > 1) add('not an everyday grip', WEIGHTS.strangeShape);
  add(
    skipped === 1 ? 'a string skipped' : `${skipped} strings skipped`,
    WEIGHTS.skippedString * skipped,
  );
  add('a wide grip', WEIGHTS.widerThanFive * Math.max(0, span - 5));
  return terms;
}
