/** The words of a piece as lines of text under its chords. */
import { SAME_PLACE, type Measure } from './piece';

/** What is sung from one place of a measure to another, verse by verse; nothing where nobody sings. */
export function sungBetween({ notes, words = [] }: Measure, from: number, to: number): string[] {
  const isIn = (at: number): boolean => at > from - SAME_PLACE && at < to - SAME_PLACE;
  const verses: string[] = [];
  for (const { at, lyrics = [] } of notes)
    if (isIn(at))
      lyrics.forEach((syllable, verse) => {
        if (syllable === undefined) return;
        while (verses.length <= verse) verses.push('');
        verses[verse] += syllable.endsWith('-') ? syllable : `${syllable} `;
      });
  const plain = words
    .filter(({ at }) => isIn(at))
    .map(({ text }) => text)
    .join('');
  if (plain.trim() !== '') verses[0] = `${verses[0] ?? ''}${plain}`;
  return verses.map((verse) => verse.replace(/\s+/gu, ' ').trim());
}
