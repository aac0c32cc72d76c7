/**
 * Degrees of a chord as text: a number with its flats or sharps (`b3`, `#11`, `bb7`). `3` is the
 * major third and `7` the major seventh above the root; 9, 11 and 13 lie an octave above 2, 4 and 6.
 */
import { LETTERS, chromaOf, chromaOfName, noteName, type Chroma, type NoteName } from './pitch';

/** Semitones of the major scale's degrees 1 … 7. */
const MAJOR_SCALE = [0, 2, 4, 5, 7, 9, 11] as const;

const naturalOf = (number: number): number => MAJOR_SCALE[(number - 1) % 7] ?? 0;

export interface DegreeParts {
  /** 1 … 13. */
  readonly number: number;
  /** Semitones from the degree of the major scale: −2 … 1. */
  readonly alter: number;
}

/** There are a few dozen degrees, and they are taken apart very often. */
const known = new Map<string, DegreeParts>();

/** Takes a degree apart. Throws on text that is none: degrees are ours, people never type them. */
export function degreeParts(degree: string): DegreeParts {
  const before = known.get(degree);
  if (before) return before;
  const match = /^(bb|b|#)?(\d+)$/.exec(degree);
  if (!match) throw new Error(`A degree such as "b7" was expected, not "${degree}".`);
  const sign = match[1] ?? '';
  const parts = { number: Number(match[2]), alter: sign === '#' ? 1 : -sign.length };
  known.set(degree, parts);
  return parts;
}

/** The pitch class a degree has above its root, 0 … 11. */
export function degreeChroma(degree: string): Chroma {
  const { number, alter } = degreeParts(degree);
  return chromaOf(naturalOf(number) + alter);
}

/** Degrees by number, altered ones from low to high: `1 b3 5 b7 b9 #9`. */
export function inDegreeOrder(degrees: Iterable<string>): string[] {
  const key = (degree: string): number => {
    const { number, alter } = degreeParts(degree);
    return number * 8 + alter;
  };
  return [...degrees].sort((a, b) => key(a) - key(b));
}

/**
 * Degree of an interval in the theory library's writing: number, then quality (`3m`, `5d`, `11A`).
 * A diminished second, third, sixth or seventh is two flats, since minor is one already.
 */
export function degreeOfInterval(interval: string): string {
  const match = /^(\d+)([PMmAd])$/.exec(interval);
  if (!match) throw new Error(`An interval such as "3M" was expected, not "${interval}".`);
  const number = match[1] ?? '';
  const perfect = [1, 4, 5].includes(((Number(number) - 1) % 7) + 1);
  const signs = { P: '', M: '', m: 'b', A: '#', d: perfect ? 'b' : 'bb' } as const;
  return signs[match[2] as keyof typeof signs] + number;
}

const NATURAL_LETTER: ReadonlyMap<Chroma, NoteName> = new Map(
  LETTERS.map((letter) => [chromaOfName(noteName(letter, 0)), noteName(letter, 0)]),
);

/** The plainest name: a natural where there is one, else the flat or the sharp. */
function plainName(chroma: Chroma, alter: 1 | -1): NoteName {
  const natural = NATURAL_LETTER.get(chroma);
  if (natural) return natural;
  const neighbour = NATURAL_LETTER.get(chromaOf(chroma - alter));
  return noteName(neighbour?.letter ?? 'C', alter);
}

/**
 * The name of a degree above a root, by counting letters: the `bb7` of C is B double flat.
 * Where that would take three flats or sharps (the `bb7` of C flat) the plainest name stands in.
 */
export function degreeName(root: NoteName, degree: string): NoteName {
  const { number } = degreeParts(degree);
  const letter = LETTERS[(LETTERS.indexOf(root.letter) + number - 1) % 7] ?? 'C';
  const chroma = chromaOf(chromaOfName(root) + degreeChroma(degree));
  const up = chromaOf(chroma - chromaOfName(noteName(letter, 0)));
  const alter = up > 6 ? up - 12 : up;
  return Math.abs(alter) <= 2 ? noteName(letter, alter) : plainName(chroma, alter < 0 ? -1 : 1);
}

/**
 * The name of a chord's tone as it is written for players: by counting letters, but never a double accidental
 * where a plain name serves. The ♯9 of E is G and no F double sharp, the diminished seventh of C is A.
 */
export function toneName(root: NoteName, degree: string): NoteName {
  const name = degreeName(root, degree);
  return Math.abs(name.alter) < 2 ? name : plainName(chromaOfName(name), name.alter < 0 ? -1 : 1);
}
