/**
 * What a player's music is made of: chord types, each with the share it has in use. Coverage,
 * comparison and the search for a pull weigh by it.
 */

import type { Chord } from './chord';
import { readChord, type ChordFault } from './readChord';

export interface RepertoireEntry {
  /** Canonical suffix of a chord type: empty for major, `m7b5`, `6/9`. */
  readonly type: string;
  /** How often it is used; only the proportions count. Above 0. */
  readonly weight: number;
}

export type Repertoire = readonly RepertoireEntry[];

/**
 * Everyday types by their labels in the McGill Billboard annotations (112,307 labels; Burgoyne,
 * Wild, Fujinaga, ISMIR 2011): the thirteen commonest that are chords of three or more tones. The
 * four after them are met in other music of the instrument (our own judgement) and get the weight
 * of the rarest counted one, so that none of them is forgotten and none leads.
 */
export const EVERYDAY_REPERTOIRE: Repertoire = [
  { type: '', weight: 60_247 },
  { type: 'm', weight: 14_233 },
  { type: '7', weight: 9_676 },
  { type: 'm7', weight: 8_534 },
  { type: 'maj7', weight: 2_768 },
  { type: 'add9', weight: 1_293 },
  { type: 'sus4', weight: 1_283 },
  { type: '6', weight: 1_108 },
  { type: '9sus4', weight: 992 },
  { type: '7sus4', weight: 942 },
  { type: 'm9', weight: 877 },
  { type: '7#9', weight: 762 },
  { type: 'maj9', weight: 648 },
  { type: '9', weight: 648 },
  { type: 'dim', weight: 648 },
  { type: 'm7b5', weight: 648 },
  { type: 'aug', weight: 648 },
];

/** A type as people write it, in any of the usual spellings, by its canonical suffix. */
export function readType(text: string): string | undefined {
  // a sign at the front would be read into the root
  if (/^\s*[#b♯♭]/u.test(text)) return undefined;
  const read = readChord(`C${text.trim()}`);
  return read.ok && read.value !== 'no chord' && read.value.bass === undefined
    ? read.value.type
    : undefined;
}

/** A type as a field or an address shows it: a major triad needs a name there. */
export const typeText = (type: string): string => (type === '' ? 'maj' : type);

/** What is played makes a repertoire: each type weighs as often as it occurs, most used first. */
function repertoireOfChords(chords: readonly Chord[]): Repertoire {
  const counts = new Map<string, number>();
  for (const { type } of chords) counts.set(type, (counts.get(type) ?? 0) + 1);
  return [...counts]
    .map(([type, weight]) => ({ type, weight }))
    .sort((a, b) => b.weight - a.weight);
}

/**
 * A repertoire from the chord symbols of a progression, as they come. Bars, repeats of a beat and
 * `N.C.` are passed over; what cannot be read is told.
 */
export function repertoireOf(symbols: readonly string[]): {
  readonly repertoire: Repertoire;
  readonly unread: readonly ChordFault[];
} {
  const chords: Chord[] = [];
  const unread: ChordFault[] = [];
  for (const symbol of symbols) {
    if (/^[|:.%/\-–—\s]*$/u.test(symbol)) continue;
    const read = readChord(symbol);
    if (!read.ok) unread.push(read.error);
    else if (read.value !== 'no chord') chords.push(read.value);
  }
  return { repertoire: repertoireOfChords(chords), unread };
}
