/**
 * What a set of pitch classes is called from a given root: the nearest chord type, with the tones
 * it leaves out and the tones added. One entry for each of the 4,096 sets above a root of 0, made
 * when first asked for; naming is then looking up.
 */
import { CHORD_TYPES, typeWithSet, type ChordType } from './chordTypes';
import { degreeChroma, degreeParts, inDegreeOrder } from './degrees';
import { isMust } from './duties';
import { degreesBeside, type Degree } from './kinds';
import { chromasIn, has, sizeOf, transpose, type PcSet } from './pcset';
import type { Chroma } from './pitch';

export interface RootedName {
  /** The type's suffix, with what is added and left out in brackets: `7(addb9,no5)`. */
  readonly suffix: string;
  readonly type: ChordType;
  /** Degrees that sound, in order. */
  readonly degrees: readonly string[];
  readonly missing: readonly string[];
  readonly added: readonly string[];
  /** Left out or added tones. */
  readonly cost: number;
  readonly rootSounds: boolean;
  /** Tones left out that the chord needs. */
  readonly lost: number;
  readonly kind: string;
  readonly kindDegrees: readonly Degree[];
}

/** Could the same sound be an everyday chord on another root? */
const isEverydayElsewhere = (set: PcSet): boolean =>
  chromasIn(set).some((root) => typeWithSet(transpose(set, -root))?.everyday);

/**
 * Rare types are names for what they alone are, in root position: a first inversion of A flat is
 * never "C minor with a raised fifth", and nothing is a rare type turned over or with a tone missing.
 */
const EVERYDAY_BY_SET = new Map<PcSet, ChordType>();
const RARE_BY_SET = new Map<PcSet, ChordType>();
for (const type of CHORD_TYPES) {
  if (type.everyday) {
    if (!EVERYDAY_BY_SET.has(type.set)) EVERYDAY_BY_SET.set(type.set, type);
  } else if (!isEverydayElsewhere(type.set) && !RARE_BY_SET.has(type.set)) {
    RARE_BY_SET.set(type.set, type);
  }
}
const NEAR = CHORD_TYPES.filter((type) => type.everyday);

/** The degree that an added pitch class is, seen from a type. */
function addedDegree(type: ChordType, chroma: Chroma): string {
  if (chroma === 3) return has(type.set, 4) ? '#9' : 'b3';
  const names = ['1', 'b9', '9', '', '3', '11', '#11', '5', 'b13', '13', 'b7', '7'] as const;
  return names[chroma] ?? '';
}

/** A third, fifth or seventh is named by number alone when it is left out. */
function missingText(degree: string): string {
  const { number } = degreeParts(degree);
  return number < 8 ? `no${String(number)}` : `no${degree}`;
}

const addedText = (degree: string): string => `add${degree === '7' ? 'maj7' : degree}`;

/** A type's suffix with what is added and left out. */
function suffixWith(type: ChordType, added: readonly string[], missing: readonly string[]): string {
  const changes = [...added.map(addedText), ...missing.map(missingText)];
  return changes.length === 0 ? type.suffix : `${type.suffix}(${changes.join(',')})`;
}

/**
 * May a type lend its name to a set that it does not match? A suspension is only heard over a fifth
 * or seventh; a raised fifth or flat thirteenth without the third is heard as a sixth; and a bare
 * fifth with other tones is a chord that lacks its third (`7(no3)`).
 */
function fits(type: ChordType, set: PcSet): boolean {
  if (type.degrees.length === 2) return false;
  const third = type.degrees.find((degree) => degreeParts(degree).number === 3);
  if (third === undefined) {
    const suspended = type.degrees.filter((degree) => degree === '2' || degree === '4');
    const sounds = suspended.every((degree) => has(set, degreeChroma(degree)));
    return sizeOf(set) > 2 && sounds && (has(set, 7) || has(set & type.set, 10));
  }
  const fifth = type.degrees.includes('5') || type.degrees.includes('b5');
  return fifth || has(set, degreeChroma(third));
}

function nearestType(set: PcSet): ChordType {
  const exact = EVERYDAY_BY_SET.get(set);
  if (exact) return exact;
  let best: ChordType | undefined;
  let least = Infinity;
  for (const type of NEAR) {
    if (!fits(type, set)) continue;
    const differing = sizeOf(type.set ^ set);
    const without = type.degrees.filter((d) => !has(set, degreeChroma(d)));
    const lost = without.filter((d) => isMust(d, type.degrees)).length;
    const cost = differing * 100 + lost;
    if (cost < least) {
      least = cost;
      best = type;
    }
  }
  if (!best) throw new Error(`No chord type is near the set ${String(set)}.`);
  return best;
}

function makeRootedName(set: PcSet, type: ChordType): RootedName {
  const missing = type.degrees.filter((degree) => !has(set, degreeChroma(degree)));
  const extra = chromasIn(set & ~type.set).map((chroma) => addedDegree(type, chroma));
  const added = inDegreeOrder(extra);
  const present = type.degrees.filter((degree) => !missing.includes(degree));
  const degrees = inDegreeOrder([...present, ...added]);
  return {
    suffix: suffixWith(type, added, missing),
    type,
    degrees,
    missing,
    added,
    cost: missing.length + added.length,
    rootSounds: has(set, 0),
    lost: missing.filter((degree) => isMust(degree, type.degrees)).length,
    // the type's own kind, so that `7(no3)` is a dominant that lacks its third and no power chord
    kind: type.kind,
    kindDegrees: degreesBeside(type.kind, degrees),
  };
}

const made: (RootedName | undefined)[] = new Array<undefined>(4096);
const madeInBass: (RootedName | undefined)[] = new Array<undefined>(4096);

/** The name of a set seen from a root of 0, which need not be in it. */
export const rootedName = (set: PcSet): RootedName =>
  (made[set] ??= makeRootedName(set, nearestType(set)));

/** The same where the root is lowest too, so that a rare type may be the name. */
export function rootedNameInBass(set: PcSet): RootedName {
  const rare = RARE_BY_SET.get(set);
  return rare ? (madeInBass[set] ??= makeRootedName(set, rare)) : rootedName(set);
}
