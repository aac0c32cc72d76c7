/** What the weights of names have to know of each chord type, and which types lend their name at all. */
import { CHORD_TYPES, typeWithSet, type ChordType } from './chordTypes';
import { degreeChroma, degreeParts } from './degrees';
import { isMust } from './duties';
import { NAME_WEIGHTS as WEIGHTS } from './nameWeights';
import { chromasIn, pcSetOf, transpose, type PcSet } from './pcset';

/** What the weights have to know of a type. */
export interface TypeFacts {
  readonly type: ChordType;
  readonly third: string | undefined;
  /** Pitch classes above the root without which it is not this chord. */
  readonly must: PcSet;
  /** Cost of each pitch class above the root where it is missing; the root's is reckoned apart. */
  readonly missing: readonly number[];
  /** Cost of each pitch class above the root in the bass of the whole chord. */
  readonly inBass: readonly number[];
  readonly isTriad: boolean;
  /** Third and seventh are a tritone. */
  readonly isDominant: boolean;
  /** Has a ninth, eleventh or thirteenth over a seventh. */
  readonly isExtended: boolean;
  readonly hasSeventh: boolean;
  readonly hasSixth: boolean;
  /** Altered extensions. */
  readonly altered: number;
}

/** A third, in whatever size; a suspended second or fourth is none. */
const thirdOf = (type: ChordType): string | undefined =>
  type.degrees.find((degree) => degreeParts(degree).number === 3);

function missingCost(type: ChordType, degree: string): number {
  const { number } = degreeParts(degree);
  const fifthIsPlain = type.degrees.includes('5');
  if (number === 3) return fifthIsPlain ? WEIGHTS.third : Infinity;
  if (isMust(degree, type.degrees)) return Infinity;
  if (number > 5) return WEIGHTS.innerExtension;
  const isDominant = type.degrees.includes('3') && type.degrees.includes('b7');
  if (type.degrees.includes('#11') && !isDominant) return WEIGHTS.fifthUnderSharpEleven;
  if (type.degrees.some((each) => degreeParts(each).number === 7)) return WEIGHTS.fifth;
  const isSixNine = type.degrees.includes('6') && type.degrees.includes('9');
  return isSixNine ? WEIGHTS.fifthUnderSixNine : WEIGHTS.fifthOfTriad;
}

function inBassCost(type: ChordType, degree: string): number {
  const { number } = degreeParts(degree);
  if (number === 1) return 0;
  // all inversions of a diminished seventh are alike
  const own =
    number === 7 && degree !== 'bb7'
      ? WEIGHTS.seventhInBass
      : number === 6
        ? WEIGHTS.sixthInBass
        : number > 7
          ? WEIGHTS.extensionInBass
          : WEIGHTS.inversion;
  const suspended = thirdOf(type) === undefined && type.degrees.length > 2;
  const sixth = type.suffix === '6' || type.suffix === 'm6';
  return own + (suspended ? WEIGHTS.suspensionTurned : 0) + (sixth ? WEIGHTS.sixthTurned : 0);
}

function byChroma(type: ChordType, costOf: (type: ChordType, degree: string) => number): number[] {
  const costs = new Array<number>(12).fill(0);
  for (const degree of type.degrees) costs[degreeChroma(degree)] = costOf(type, degree);
  return costs;
}

function factsOf(type: ChordType): TypeFacts {
  const numbers = type.degrees.map((degree) => degreeParts(degree).number);
  const hasSeventh = numbers.includes(7);
  const missing = byChroma(type, missingCost);
  return {
    type,
    third: thirdOf(type),
    must: pcSetOf(missing.flatMap((cost, chroma) => (cost === Infinity ? [chroma] : []))),
    missing,
    inBass: byChroma(type, inBassCost),
    isTriad: type.suffix === '' || type.suffix === 'm',
    isDominant: type.degrees.includes('3') && type.degrees.includes('b7'),
    isExtended: hasSeventh && numbers.some((number) => number > 7),
    hasSeventh,
    hasSixth: numbers.includes(6),
    altered: type.degrees.filter((degree) => {
      const { number, alter } = degreeParts(degree);
      return number > 7 && alter !== 0;
    }).length,
  };
}

/** Could the same sound be an everyday chord on another root? */
const isEverydayElsewhere = (set: PcSet): boolean =>
  chromasIn(set).some((root) => typeWithSet(transpose(set, -root))?.everyday);

/**
 * Types that the ear takes for another: a lowered fifth beside a major third and no minor seventh is
 * a raised eleventh, or belongs to another root; and an eleventh or thirteenth is one whether the ninth
 * below it sounds or not.
 */
function isHeardAsAnother(type: ChordType): boolean {
  const lowered = type.degrees.includes('3') && type.degrees.includes('b5');
  if (lowered && (!type.degrees.includes('b7') || type.degrees.includes('9'))) return true;
  return type.suffix === '7add13' || type.suffix === 'm7add11';
}

/** Everyday types, commonest first, then the rare ones that name a sound of their own. */
export const NAMED_TYPES: TypeFacts[] = [];
/** The place of a rare type among them, by what it sounds. */
export const RARE_BY_SET = new Map<PcSet, number>();
const taken = new Set<PcSet>();
for (const type of CHORD_TYPES) {
  if (isHeardAsAnother(type) || taken.has(type.set)) continue;
  if (!type.everyday && isEverydayElsewhere(type.set)) continue;
  taken.add(type.set);
  NAMED_TYPES.push(factsOf(type));
  if (!type.everyday) RARE_BY_SET.set(type.set, NAMED_TYPES.length - 1);
}
/** How many of them are everyday types. */
export const EVERYDAY_COUNT = NAMED_TYPES.length - RARE_BY_SET.size;
