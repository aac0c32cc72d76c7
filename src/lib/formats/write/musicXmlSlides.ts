/** Which strings of a MusicXML score slide from one chord into the next, and by which number. */
import type { PlayedStep } from './musicXmlNotes';

/** Slides at one chord: the number of each by its string. */
export interface Slides {
  /** That end here. */
  readonly into: ReadonlyMap<number, number>;
  /** That begin here. */
  readonly outOf: ReadonlyMap<number, number>;
}

/**
 * MusicXML tells slides that lie over one another apart by a number from 1 to 6 (its `number-level`
 * goes on to 16, but readers keep no more places than six, and some end with an error beyond).
 */
const NUMBERS = [1, 2, 3, 4, 5, 6] as const;

/** Whether a string rings on from one chord into the next, at the same pitch or on the way to another. */
export function leads(
  from: PlayedStep | undefined,
  to: PlayedStep | undefined,
  string: number,
): 'tie' | 'slide' | undefined {
  if (from === undefined || to === undefined || from.neck !== to.neck) return undefined;
  const [was, is] = [from.strings.indexOf(string), to.strings.indexOf(string)];
  if (was < 0 || is < 0 || !to.held.includes(string)) return undefined;
  return from.pitches[was] === to.pitches[is] ? 'tie' : 'slide';
}

/**
 * The slides of every chord, in order. A number is taken when its slide begins and is free once it has
 * ended, in the order in which the notes are written: at a chord of one note value a string's slide
 * ends and its next begins before the string after it is written. More than six at once are not
 * written as slides.
 *
 * @param chords each played chord, `undefined` for a rest; `long` where it is written as several tied
 *   notes, so that all slides into it end before any out of it begins
 */
export function slidesOf(
  chords: readonly { readonly played: PlayedStep | undefined; readonly long: boolean }[],
): Slides[] {
  const open = new Map<number, number>();
  return chords.map(({ played, long }, index) => {
    const [into, outOf] = [new Map<number, number>(), new Map<number, number>()];
    const end = (string: number): void => {
      const number = open.get(string);
      if (number === undefined) return;
      open.delete(string);
      into.set(string, number);
    };
    const begin = (string: number): void => {
      if (leads(played, chords[index + 1]?.played, string) !== 'slide') return;
      const taken = new Set(open.values());
      const free = NUMBERS.find((number) => !taken.has(number));
      if (free === undefined) return;
      open.set(string, free);
      outOf.set(string, free);
    };
    const strings = played?.strings ?? [];
    if (long) strings.forEach(end);
    for (const string of strings) {
      end(string);
      begin(string);
    }
    return { into, outOf };
  });
}
