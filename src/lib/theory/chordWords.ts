/** Chords between spaces, one word each, as fields and options take them; and what one that is none likely means. */
import type { ChordFault } from './readChord';
import { inWords } from './typedText';

/** A chord of a list that likely was meant, and the whole list with it. */
export interface MeantChord {
  readonly chord: string;
  readonly text: string;
}

/** Words with spaces, bar lines, or commas outside brackets between them; `La m` is one. */
export const chordWords = (text: string): string[] =>
  inWords(text, 'solfege')
    .split(/[\s|]+|,(?![^(]*\))/u)
    .filter((word) => word !== '');

/** The readings of the word of a list that could not be read; none where it looks like no other notation. */
export function chordsMeant(text: string, { text: word, other }: ChordFault): MeantChord[] {
  const list = inWords(text, 'solfege');
  // the word itself, not a part of one before it; a fret may stand behind it
  const at = [...list.matchAll(/(?:[^\s,|@(]|\([^)]*\)?)+/gu)].find(
    (each) => each[0] === word && list[each.index - 1] !== '@',
  )?.index;
  if (at === undefined) return [];
  return (other?.readings ?? []).map((chord) => ({
    chord,
    text: list.slice(0, at) + chord + list.slice(at + word.length),
  }));
}
