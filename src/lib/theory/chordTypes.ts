/**
 * Every chord type the program knows: those of `tonal`'s dictionary and our own additions, with
 * one canonical suffix each. It asks the theory library once, on load.
 */
import { ChordType as Dictionary } from 'tonal';
import { degreeChroma, degreeOfInterval, inDegreeOrder } from './degrees';
import { EVERYDAY, RARE, type TypeRow } from './chordTypeData';
import { kindOf, type Degree } from './kinds';
import { pcSetOf, type PcSet } from './pcset';

export interface ChordType {
  /** Canonical suffix in plain letters: empty for major, `m7b5`, `6/9`. */
  readonly suffix: string;
  /** Degrees in ascending order of number, the root first. */
  readonly degrees: readonly string[];
  /** Pitch classes above a root of 0. */
  readonly set: PcSet;
  /** 0 is the commonest; everyday types come before rare ones. */
  readonly rank: number;
  /** May give a name to a sound that is not exactly its own. */
  readonly everyday: boolean;
  /** MusicXML 4.0 `kind` and the `degree`s that make it this type. */
  readonly kind: string;
  readonly kindDegrees: readonly Degree[];
}

function degreesOf(row: TypeRow): string[] {
  if (row.degrees) return row.degrees.split(' ');
  const alias = row.tonal ?? (row.suffix === '' ? 'M' : row.suffix);
  const entry = Dictionary.get(alias);
  if (entry.empty) throw new Error(`The dictionary of chord types has no "${alias}".`);
  return inDegreeOrder(entry.intervals.map(degreeOfInterval));
}

function typeOf(row: TypeRow, rank: number): ChordType {
  const degrees = degreesOf(row);
  const set = pcSetOf(degrees.map(degreeChroma));
  const everyday = rank < EVERYDAY.length;
  // few of them are ever asked for their kind, and to look for all would keep the page waiting
  let found: ReturnType<typeof kindOf> | undefined;
  const inFormat = (): ReturnType<typeof kindOf> => (found ??= kindOf(degrees));
  return {
    suffix: row.suffix,
    degrees,
    set,
    rank,
    everyday,
    get kind() {
      return inFormat().kind;
    },
    get kindDegrees() {
      return inFormat().degrees;
    },
  };
}

/** All types, commonest first. */
export const CHORD_TYPES: readonly ChordType[] = [...EVERYDAY, ...RARE].map(typeOf);

const bySuffix = new Map(CHORD_TYPES.map((type) => [type.suffix, type]));
const byDegrees = new Map(CHORD_TYPES.map((type) => [type.degrees.join(' '), type]));
const bySet = new Map<PcSet, ChordType>();
for (const type of CHORD_TYPES) if (!bySet.has(type.set)) bySet.set(type.set, type);

/** The type with exactly this canonical suffix. */
export const typeWithSuffix = (suffix: string): ChordType | undefined => bySuffix.get(suffix);

/** The type spelled with exactly these degrees, which must be in degree order. */
export const typeWithDegrees = (degrees: readonly string[]): ChordType | undefined =>
  byDegrees.get(degrees.join(' '));

/** The commonest type with exactly these pitch classes above a root of 0. */
export const typeWithSet = (set: PcSet): ChordType | undefined => bySet.get(set);
