/**
 * What a set of pitch classes over a bass is called from a given root: the chord type that costs least
 * by the weights, with the tones it leaves out and the tones added. One entry for each set and bass
 * above a root of 0, made when first asked for; naming is then looking up.
 */
import type { ChordType } from './chordTypes';
import { degreeChroma, degreeParts, inDegreeOrder } from './degrees';
import { degreesBeside, type Degree } from './kinds';
import { NAME_WEIGHTS as WEIGHTS } from './nameWeights';
import { chromasIn, has, sizeOf, type PcSet } from './pcset';
import type { Chroma } from './pitch';
import { EVERYDAY_COUNT, NAMED_TYPES, RARE_BY_SET, type TypeFacts } from './typeFacts';

export interface RootedName {
  /** The type's suffix, with what is added and left out in brackets: `7(addb9,no5)`. */
  readonly suffix: string;
  readonly type: ChordType;
  /** Degrees that sound, in order; a foreign bass is none. */
  readonly degrees: readonly string[];
  readonly missing: readonly string[];
  readonly added: readonly string[];
  /** The bass stands outside of the chord, and is told by the slash alone. */
  readonly foreignBass: boolean;
  /** Its bass is one of its tones and is not told: the chord is partial and has extensions. */
  readonly hidesBass: boolean;
  readonly kind: string;
  readonly kindDegrees: readonly Degree[];
}

/** The degree that an added pitch class is, in semitones above the root; the root is in every type. */
const ADDED = ['', 'b9', '9', '#9', '3', '11', '#11', '5', 'b13', '13', 'b7', '7'] as const;

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
function fits({ type, third }: TypeFacts, set: PcSet): boolean {
  if (type.degrees.length === 2) return type.set === set;
  if (third === undefined) {
    const suspended = type.degrees.filter((degree) => degree === '2' || degree === '4');
    const sounds = suspended.every((degree) => has(set, degreeChroma(degree)));
    return sizeOf(set) > 2 && sounds && (has(set, 7) || has(set & type.set, 10));
  }
  const fifth = type.degrees.includes('5') || type.degrees.includes('b5');
  return fifth || has(set, degreeChroma(third));
}

/**
 * Are all tones there that tell a chord without its root: the third and two more, none foreign; or the
 * third and fifth of a triad, the third and seventh of a dominant?
 */
function speaksWithoutRoot(facts: TypeFacts, set: PcSet): boolean {
  const { third, isTriad, isDominant, hasSeventh, type } = facts;
  if ((set & ~type.set) !== 0) return false;
  if (third === undefined || !has(set, degreeChroma(third))) return false;
  // but for a dominant, whose tritone tells it, nothing more may be missing
  if (sizeOf(set) > 2) return hasSeventh && (isDominant || type.set === (set | 1));
  return isTriad ? has(set, 7) : isDominant && type.suffix === '7' && !has(set, 7);
}

interface Costs {
  readonly cost: number;
  readonly costInMind: number;
}
const NEVER: Costs = { cost: Infinity, costInMind: Infinity };
const alike = (cost: number): Costs => ({ cost, costInMind: cost });

/** What missing and added tones cost; the root is not among them. */
function tonesCost({ type, missing }: TypeFacts, set: PcSet): number {
  const out = type.set & ~set & ~1;
  let cost = WEIGHTS.added * sizeOf(set & ~type.set);
  for (let rest = out; rest !== 0; rest &= rest - 1)
    cost += missing[31 - Math.clz32(rest & -rest)] as number;
  // the third that the type has, and its perfect fifth
  if (out & 0b11000 && has(out, 7)) cost += WEIGHTS.thirdAndFifth;
  return cost;
}

function rootlessCosts(facts: TypeFacts, set: PcSet, bass: Chroma, tones: number): Costs {
  if (!speaksWithoutRoot(facts, set)) return NEVER;
  const { inBass, isDominant, isExtended, isTriad, type } = facts;
  if (sizeOf(set) === 2 && isTriad)
    return alike(
      tones + (type.suffix === 'm' ? WEIGHTS.minorRootOfTwoNotes : WEIGHTS.rootOfTwoNotes),
    );
  const altered = facts.altered * WEIGHTS.alteredWithoutRoot;
  const root = isDominant && isExtended ? WEIGHTS.rootOfDominant : WEIGHTS.rootOfOthers;
  const turned = inBass[bass] as number;
  const cost = tones + altered + root + turned;
  // an extended chord is told without its bass
  const costInMind = tones + altered + WEIGHTS.rootInMind + (isExtended ? 0 : turned);
  const inMind = isDominant && (isExtended || sizeOf(set) === 2);
  return { cost, costInMind: inMind ? costInMind : cost };
}

/** A foreign bass under what the other tones are. */
function foreignCost({ type, third, isTriad }: TypeFacts, set: PcSet, bass: Chroma): number {
  if (type.set !== set || third === undefined) return WEIGHTS.bassUnderPartial;
  if (!isTriad) return WEIGHTS.bassUnderChord;
  return bass === 2 || bass === 5 ? WEIGHTS.pedalUnderTriad : WEIGHTS.bassUnderTriad;
}

/** What a type costs as the name of a set over a bass, both above a root of 0. */
function costsOf(facts: TypeFacts, set: PcSet, bass: Chroma): Costs {
  const { type, inBass, isDominant, hasSeventh, hasSixth } = facts;
  const rank = type.rank * WEIGHTS.rank;
  if (isForeign(type, set, bass)) {
    const above = set & ~(1 << bass);
    if (!has(above, 0) || !fits(facts, above)) return NEVER;
    return alike(rank + tonesCost(facts, above) + foreignCost(facts, above, bass));
  }
  if (!fits(facts, set)) return NEVER;
  const tones = rank + tonesCost(facts, set);
  if (!has(set, 0)) return rootlessCosts(facts, set, bass, tones);
  const hasColours = hasSeventh || hasSixth || type.degrees.length > 4;
  const staysItself = isDominant && (set & 0b10010000) !== 0;
  const turned = bass !== 0 && type.set !== set && hasColours && !staysItself;
  const cost = tones + (inBass[bass] as number) + (turned ? WEIGHTS.partialTurned : 0);
  return { cost, costInMind: cost - WEIGHTS.homeOfEquals };
}

/** A bass that is no tone of the chord is told by the slash alone: C/F#, not C(add#11)/F#. */
const isForeign = (type: ChordType, set: PcSet, bass: Chroma): boolean =>
  bass !== 0 && !has(type.set, bass) && sizeOf(set) > 2;

function makeRootedName(facts: TypeFacts, all: PcSet, bass: Chroma): RootedName {
  const { type, isExtended } = facts;
  const foreignBass = isForeign(type, all, bass);
  const set = foreignBass ? all & ~(1 << bass) : all;
  const missing = type.degrees.filter((degree) => !has(set, degreeChroma(degree)));
  const extra = chromasIn(set & ~type.set).map((chroma) => ADDED[chroma] ?? '');
  const added = inDegreeOrder(extra);
  const present = type.degrees.filter((degree) => !missing.includes(degree));
  const degrees = inDegreeOrder([...present, ...added]);
  return {
    suffix: suffixWith(type, added, missing),
    type,
    degrees,
    missing,
    added,
    foreignBass,
    hidesBass: isExtended && missing.length > 0 && added.length === 0 && !foreignBass,
    // the type's own kind, so that `7(no3)` is a dominant that lacks its third and no power chord
    kind: type.kind,
    kindDegrees: degreesBeside(type.kind, degrees),
  };
}

// by set and bass above a root of 0: 0 is not looked up yet, n stands for type n − 1, NONE for no name
const NONE = 255;
const chosen = new Uint8Array(4096 * 12);
const costs = new Float64Array(4096 * 12);
const costsInMind = new Float64Array(4096 * 12);
const made = new Map<number, RootedName>();

/** Chooses the cheapest type; a rare one only where it is all of the sound, over its root. */
function choose(set: PcSet, bass: Chroma): void {
  let best = NONE - 1;
  let least = NEVER;
  for (let number = 0; number < EVERYDAY_COUNT; number++) {
    const facts = NAMED_TYPES[number] as TypeFacts;
    // no name is cheaper than its type is rare; they come by rank
    if (facts.type.rank * WEIGHTS.rank >= least.cost) break;
    if ((facts.must & ~set) !== 0) continue;
    const now = costsOf(facts, set, bass);
    if (now.cost >= least.cost) continue;
    best = number;
    least = now;
  }
  const rare = bass === 0 ? RARE_BY_SET.get(set) : undefined;
  if (rare !== undefined && WEIGHTS.rare < least.cost) {
    best = rare;
    least = alike(WEIGHTS.rare);
  }
  const at = set * 12 + bass;
  chosen[at] = best + 1;
  costs[at] = least.cost;
  costsInMind[at] = least.costInMind;
}

/**
 * What the name of a set over a bass in it costs, seen from a root of 0, by the weights; `inMind` where
 * the player has the root in mind. Infinite where the set lacks the root and does not speak without it.
 */
export function costOfName(set: PcSet, bass: Chroma, inMind: boolean): number {
  const at = set * 12 + bass;
  if (chosen[at] === 0) choose(set, bass);
  return (inMind ? costsInMind : costs)[at] as number;
}

/** That name. Throws where it costs infinitely much. */
export function rootedName(set: PcSet, bass: Chroma): RootedName {
  const at = set * 12 + bass;
  if (chosen[at] === 0) choose(set, bass);
  const facts = NAMED_TYPES[(chosen[at] as number) - 1];
  if (facts === undefined)
    throw new Error(`The set ${String(set)} over ${String(bass)} has no name from a root of 0.`);
  let name = made.get(at);
  if (name === undefined) made.set(at, (name = makeRootedName(facts, set, bass)));
  return name;
}
