/** `A, B and C are standard`: pulls that are not written, as every player of E9 has them. */
import { chromaOfName, parseNoteName } from '$lib/theory/pitch';
import { signedToType } from '$lib/theory/signed';
import type { Piece } from './doubts';
import type { WrittenPull } from './reading';

interface UsualPull {
  /** From 1. */
  readonly string: number;
  /** What the string is open; where it is something else the pull is not meant. */
  readonly open: string;
  readonly semitones: number;
}

/** On ten strings of E9 (common practice of the trade, from memory). */
const USUAL: Readonly<Record<string, readonly UsualPull[]>> = {
  A: [
    { string: 5, open: 'B', semitones: 2 },
    { string: 10, open: 'B', semitones: 2 },
  ],
  B: [
    { string: 3, open: 'G#', semitones: 1 },
    { string: 6, open: 'G#', semitones: 1 },
  ],
  C: [
    { string: 4, open: 'E', semitones: 2 },
    { string: 5, open: 'B', semitones: 2 },
  ],
  E: [
    { string: 4, open: 'E', semitones: -1 },
    { string: 8, open: 'E', semitones: -1 },
  ],
  F: [
    { string: 4, open: 'E', semitones: 1 },
    { string: 8, open: 'E', semitones: 1 },
  ],
};

const SAID =
  /^[\s*•·-]*(?:my |the |die )?(?:pedals?|levers?|pedale|hebel)?\s*([A-F](?:\s*(?:,|and|und|&|\+)\s*[A-F]){0,4})\s+(?:pedals?\s+|levers?\s+)?(?:is|are|ist|sind)\s+(?:all\s+|the\s+|as\s+|wie\s+)?(?:standard|usual|normal|üblich)[\s.!]*$/u;

/** The letters whose pulls a line says to be the usual ones; `undefined` where it says something else. */
export function usualLettersIn({ text }: Piece): readonly string[] | undefined {
  const letters = SAID.exec(text)?.[1]?.match(/[A-F](?!\p{L})/gu) ?? [];
  return letters.length > 0 && letters.every((letter) => USUAL[letter] !== undefined)
    ? letters
    : undefined;
}

/** The pulls that a letter usually has, for a control of the neck's list; what they are is told as a doubt. */
export const usualPullsOf = (letter: string, control: number, piece: Piece): WrittenPull[] =>
  (USUAL[letter] ?? []).map(({ string, open, semitones }) => ({
    string: string - 1,
    control,
    piece,
    travel: (chroma, _, place) => {
      const name = parseNoteName(open);
      if (name === undefined || chromaOfName(name) !== chroma) return undefined;
      place.doubts.tell({
        ...place,
        key: `usual:${piece.at}:${letter}:${string}`,
        read: `${signedToType(semitones)}, as usual on E9`,
      });
      return { semitones };
    },
  }));
