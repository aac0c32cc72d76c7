/**
 * Chords in MusicXML 4.0's words: a `kind` value, and `degree`s where the kind does not say it all.
 * Source: W3C MusicXML 4.0, musicxml.xsd, simpleType "kind-value", complexTypes "degree",
 * "degree-alter", "degree-type".
 */
import { degreeChroma, degreeParts } from './degrees';

/** One `degree` element. */
export interface Degree {
  /** 1 … 13. */
  readonly value: number;
  /**
   * Semitones. For `add` they count from a dominant chord (major and perfect intervals, but a minor
   * seventh); for `alter` and `subtract` from the degree that the kind has already.
   */
  readonly alter: number;
  readonly type: 'add' | 'alter' | 'subtract';
}

/** The kinds with fixed intervals, sevenths first: of two equally short writings the first wins. */
export const KIND_DEGREES: Readonly<Record<string, string>> = {
  dominant: '1 3 5 b7',
  'major-seventh': '1 3 5 7',
  'minor-seventh': '1 b3 5 b7',
  'major-minor': '1 b3 5 7',
  'half-diminished': '1 b3 b5 b7',
  'diminished-seventh': '1 b3 b5 bb7',
  'augmented-seventh': '1 3 #5 b7',
  major: '1 3 5',
  minor: '1 b3 5',
  augmented: '1 3 #5',
  diminished: '1 b3 b5',
  'suspended-second': '1 2 5',
  'suspended-fourth': '1 4 5',
  'major-sixth': '1 3 5 6',
  'minor-sixth': '1 b3 5 6',
  'dominant-ninth': '1 3 5 b7 9',
  'major-ninth': '1 3 5 7 9',
  'minor-ninth': '1 b3 5 b7 9',
  'dominant-11th': '1 3 5 b7 9 11',
  'major-11th': '1 3 5 7 9 11',
  'minor-11th': '1 b3 5 b7 9 11',
  'dominant-13th': '1 3 5 b7 9 11 13',
  'major-13th': '1 3 5 7 9 11 13',
  'minor-13th': '1 b3 5 b7 9 11 13',
  power: '1 5',
};

interface Kind {
  readonly kind: string;
  /** Semitones above the root by degree number. */
  readonly tones: ReadonlyMap<number, number>;
}

const KINDS: readonly Kind[] = Object.entries(KIND_DEGREES).map(([kind, degrees]) => ({
  kind,
  tones: new Map(degrees.split(' ').map((d) => [degreeParts(d).number, degreeChroma(d)])),
}));

/** The alteration of an added degree, counted from the dominant chord. */
function addedAlter(degree: string): number {
  const { number, alter } = degreeParts(degree);
  return number === 7 ? alter + 1 : alter;
}

/** Signed semitones from one pitch class to another near it. */
const step = (from: number, to: number): number => ((to - from + 18) % 12) - 6;

function degreesFrom(kind: Kind, wanted: readonly string[]): { degrees: Degree[]; shared: number } {
  const degrees: Degree[] = [];
  const used = new Set<number>();
  let shared = 0;
  const exact = (degree: string): boolean =>
    kind.tones.get(degreeParts(degree).number) === degreeChroma(degree);
  for (const degree of wanted) {
    if (!exact(degree)) continue;
    used.add(degreeParts(degree).number);
    shared++;
  }
  for (const degree of wanted) {
    if (exact(degree)) continue;
    const { number } = degreeParts(degree);
    const has = kind.tones.get(number);
    if (has === undefined || used.has(number)) {
      degrees.push({ value: number, alter: addedAlter(degree), type: 'add' });
    } else {
      used.add(number);
      degrees.push({ value: number, alter: step(has, degreeChroma(degree)), type: 'alter' });
    }
  }
  for (const value of kind.tones.keys()) {
    if (!used.has(value)) degrees.push({ value, alter: 0, type: 'subtract' });
  }
  degrees.sort((a, b) => a.value - b.value || a.alter - b.alter);
  return { degrees, shared };
}

/** Tones that make a kind what it is: better added to a smaller kind than taken from a larger. */
const CORE: readonly number[] = [2, 3, 4, 7, 9];

/**
 * The kind that needs the fewest degrees to say exactly these tones. Of equals, one that keeps its
 * third, seventh and ninth goes first (`add9` is a major triad and a 9, not a ninth without its
 * seventh), then the one that shares most tones with the chord (a 13 is a `dominant-13th` without
 * its 11, rather than a ninth with something added).
 */
export function kindOf(wanted: readonly string[]): { kind: string; degrees: readonly Degree[] } {
  let best: { kind: string; degrees: readonly Degree[]; cost: number } | undefined;
  for (const kind of KINDS) {
    const { degrees, shared } = degreesFrom(kind, wanted);
    const losesCore = degrees.some((d) => d.type === 'subtract' && CORE.includes(d.value));
    const cost = degrees.length * 100 + (losesCore ? 50 : 0) - shared;
    if (!best || cost < best.cost) best = { kind: kind.kind, degrees, cost };
  }
  if (!best) throw new Error('The table of kinds is empty.');
  return { kind: best.kind, degrees: best.degrees };
}

/** What has to be said besides a given kind so that it has exactly these tones. */
export function degreesBeside(name: string, wanted: readonly string[]): readonly Degree[] {
  const kind = KINDS.find((each) => each.kind === name);
  if (!kind) throw new Error(`A kind with tones of its own was expected, not "${name}".`);
  return degreesFrom(kind, wanted).degrees;
}
