/** What a grip asks of the picking hand. */
import { chromaOf } from '$lib/theory/pitch';
import { has, pcSetOf, transpose, type PcSet } from '$lib/theory/pcset';
import type { Neck } from '$lib/setup/setup';
import { WEIGHTS, type Term } from './weights';

const MAJOR = pcSetOf([0, 4, 7]);
const MINOR = pcSetOf([0, 3, 7]);

/**
 * The pitch classes of a tuning's home chord: the major or minor triad that most open strings belong
 * to; where several are level, all of them together (C and A minor make the C6 of a C6 neck).
 */
function homeChord(neck: Neck): PcSet {
  const chromas = neck.strings.map((string) => chromaOf(string.open.midi));
  let best = 0;
  let home = 0;
  for (const triad of [MAJOR, MINOR])
    for (let root = 0; root < 12; root++) {
      const set = transpose(triad, root);
      const strings = chromas.filter((chroma) => has(set, chroma)).length;
      if (strings > best) {
        best = strings;
        home = set;
      } else if (strings === best) home |= set;
    }
  return home;
}

/** The strings of the home chord, from string 1 on. The hand knows them as one row. */
export function homeStrings(neck: Neck): number[] {
  const home = homeChord(neck);
  return neck.strings.flatMap((string, index) =>
    has(home, chromaOf(string.open.midi)) ? [index + 1] : [],
  );
}

/**
 * An everyday grip is made of neighbours in the row of home strings, two to four of them. On E9 the
 * everyday grips of three are 3-4-5, 4-5-6, 5-6-8 and 6-8-10 (common practice of the trade).
 */
export function isEveryday(neck: Neck, strings: readonly number[]): boolean {
  if (strings.length < 2 || strings.length > 4) return false;
  const home = homeStrings(neck);
  const first = home.indexOf(strings[0] ?? 0);
  return first >= 0 && strings.every((string, index) => home[first + index] === string);
}

/** The terms of picking some strings, numbered from 1 and ascending. */
export function pickingTerms(neck: Neck, strings: readonly number[]): Term[] {
  const terms: Term[] = [];
  const add = (name: string, value: number): void => {
    if (value > 0) terms.push({ part: 'picking', name, value });
  };
  const most = WEIGHTS.strings.length - 1;
  add(`${strings.length} strings at once`, WEIGHTS.strings[Math.min(strings.length, most)] ?? 0);
  if (isEveryday(neck, strings)) return terms;
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
