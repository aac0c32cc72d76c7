/**
 * Reads a MusicXML kind and its degrees back into pitch classes, independently of the code that
 * wrote them. The intervals are typed from W3C MusicXML 4.0, musicxml.xsd, "kind-value" (major and
 * perfect intervals unless said), the rules from "degree-alter".
 */
import type { Degree } from '$lib/theory/kinds';

type Tones = readonly (readonly [degree: number, semitones: number])[];

const TRIAD: Tones = [
  [1, 0],
  [3, 4],
  [5, 7],
];
const MINOR: Tones = [
  [1, 0],
  [3, 3],
  [5, 7],
];
const AUGMENTED: Tones = [
  [1, 0],
  [3, 4],
  [5, 8],
];
const DIMINISHED: Tones = [
  [1, 0],
  [3, 3],
  [5, 6],
];
const with7 = (triad: Tones, seventh: number): Tones => [...triad, [7, seventh]];
const ninth = (chord: Tones): Tones => [...chord, [9, 2]];
const eleventh = (chord: Tones): Tones => [...ninth(chord), [11, 5]];
const thirteenth = (chord: Tones): Tones => [...eleventh(chord), [13, 9]];
const DOMINANT = with7(TRIAD, 10);
const MAJOR_SEVENTH = with7(TRIAD, 11);
const MINOR_SEVENTH = with7(MINOR, 10);

const KINDS: Readonly<Record<string, Tones>> = {
  major: TRIAD,
  minor: MINOR,
  augmented: AUGMENTED,
  diminished: DIMINISHED,
  dominant: DOMINANT,
  'major-seventh': MAJOR_SEVENTH,
  'minor-seventh': MINOR_SEVENTH,
  'diminished-seventh': with7(DIMINISHED, 9),
  'augmented-seventh': with7(AUGMENTED, 10),
  'half-diminished': with7(DIMINISHED, 10),
  'major-minor': with7(MINOR, 11),
  'major-sixth': [...TRIAD, [6, 9]],
  'minor-sixth': [...MINOR, [6, 9]],
  'dominant-ninth': ninth(DOMINANT),
  'major-ninth': ninth(MAJOR_SEVENTH),
  'minor-ninth': ninth(MINOR_SEVENTH),
  'dominant-11th': eleventh(DOMINANT),
  'major-11th': eleventh(MAJOR_SEVENTH),
  'minor-11th': eleventh(MINOR_SEVENTH),
  'dominant-13th': thirteenth(DOMINANT),
  'major-13th': thirteenth(MAJOR_SEVENTH),
  'minor-13th': thirteenth(MINOR_SEVENTH),
  'suspended-second': [
    [1, 0],
    [2, 2],
    [5, 7],
  ],
  'suspended-fourth': [
    [1, 0],
    [4, 5],
    [5, 7],
  ],
  power: [
    [1, 0],
    [5, 7],
  ],
};

/** "relative to a dominant chord (major and perfect intervals except for a minor seventh)". */
const ADDED = [0, 2, 4, 5, 7, 9, 10] as const;

/** Pitch classes above a root of 0, ascending; throws where a degree does not fit the kind. */
export function decodeKind(kind: string, degrees: readonly Degree[]): number[] {
  const tones = KINDS[kind];
  if (!tones) throw new Error(`no such kind: ${kind}`);
  const own = new Map(tones);
  const added: number[] = [];
  for (const { value, alter, type } of degrees) {
    const present = own.get(value);
    if (type === 'add') {
      added.push((ADDED[(value - 1) % 7] ?? 0) + alter);
    } else if (present === undefined) {
      throw new Error(`${kind} has no ${String(value)} to ${type}`);
    } else if (type === 'alter') {
      own.set(value, present + alter);
    } else {
      own.delete(value);
    }
  }
  const chromas = [...own.values(), ...added].map((semitones) => (semitones + 12) % 12);
  return [...new Set(chromas)].sort((a, b) => a - b);
}
