/**
 * Every pull set that a control could have, numbered in a fixed order: fewer strings first, then by
 * strings, then by semitones from the lowest up, the last string's changing fastest.
 */
import type { Setup } from './setup';

/** A string of a setup. */
export interface StringPlace {
  readonly neck: number;
  readonly string: number;
}

/** A string and the semitones by which it could be moved, ascending, none of them 0. */
export interface Movable extends StringPlace {
  readonly amounts: readonly number[];
}

/** One string pulled by some semitones; no half-stop. */
export interface PlainPull extends StringPlace {
  readonly semitones: number;
}

/** How far a suggested pull goes at most, in semitones, and over how many strings. */
export const FURTHEST = 3;
/** How many strings a suggested control moves at most. */
export const MOST_STRINGS = 3;
const AMOUNTS = [-3, -2, -1, 1, 2, 3] as const;

/** How far one string may be moved, in semitones from open. */
export interface StringRange extends StringPlace {
  readonly least: number;
  readonly most: number;
}

/** How many more pulls may raise a string, and how many lower it. */
export interface StringRoom extends StringPlace {
  readonly raises: number;
  readonly lowers: number;
}

/**
 * Is there room for all of some pulls? Strings without an entry have room for any.
 *
 * @param staying pulls that are there already and stay, of those that the room was reckoned without: they count
 *   where a new pull goes the same way
 */
export function hasRoom(
  room: readonly StringRoom[],
  pulls: readonly PlainPull[],
  staying: readonly PlainPull[] = [],
): boolean {
  return room.every((each) => {
    const many = (of: readonly PlainPull[], isRaise: boolean): number =>
      of.filter((pull) => isSameString(pull, each) && pull.semitones > 0 === isRaise).length;
    const fits = (isRaise: boolean, left: number): boolean => {
      const more = many(pulls, isRaise);
      return more === 0 || more + many(staying, isRaise) <= left;
    };
    return fits(true, each.raises) && fits(false, each.lowers);
  });
}

export interface CandidateLimits {
  /** 1 … 3. */
  readonly stringsUpTo: number;
  /** One neck only. */
  readonly neck?: number | undefined;
  readonly must?: readonly StringPlace[];
  readonly never?: readonly StringPlace[];
  /** Strings that bear less than three semitones up or down, or have no rod left for it; all of a string's hold. */
  readonly ranges?: readonly StringRange[];
}

/** Strings pulled together, with the number of their first candidate. */
export interface StringSet {
  readonly strings: readonly Movable[];
  readonly first: number;
}

export interface Candidates {
  readonly sets: readonly StringSet[];
  readonly count: number;
}

const isSameString = (a: StringPlace, b: StringPlace): boolean =>
  a.neck === b.neck && a.string === b.string;

/** The strings that may be moved, each within its range. */
export function movableStrings(
  setup: Setup,
  { neck, never = [], ranges = [] }: CandidateLimits,
): Movable[] {
  return setup.necks.flatMap(({ strings }, neckIndex) =>
    strings.flatMap((_, index) => {
      const at = { neck: neckIndex + 1, string: index + 1 };
      if (neck !== undefined && neck !== at.neck) return [];
      if (never.some((each) => isSameString(each, at))) return [];
      const own = ranges.filter((each) => isSameString(each, at));
      const amounts = AMOUNTS.filter((amount) =>
        own.every(({ least, most }) => amount >= least && amount <= most),
      );
      return amounts.length === 0 ? [] : [{ ...at, amounts }];
    }),
  );
}

/** Sets of `size` items in lexicographic order. */
function* choices<T>(items: readonly T[], size: number, from = 0): Generator<T[]> {
  if (size === 0) yield [];
  else
    for (let i = from; i <= items.length - size; i++)
      for (const rest of choices(items, size - 1, i + 1)) yield [items[i] as T, ...rest];
}

/**
 * Every set of pulls that a control could have within the limits, counted and not listed: by sets of
 * strings, the smaller ones first.
 */
export function candidatesOn(setup: Setup, limits: CandidateLimits): Candidates {
  const { stringsUpTo, must = [] } = limits;
  const movable = movableStrings(setup, limits);
  const sets: StringSet[] = [];
  let count = 0;
  for (let size = 1; size <= Math.min(stringsUpTo, MOST_STRINGS); size++)
    for (const strings of choices(movable, size)) {
      if (!must.every((each) => strings.some((string) => isSameString(each, string)))) continue;
      sets.push({ strings, first: count });
      count += strings.reduce((product, { amounts }) => product * amounts.length, 1);
    }
  return { sets, count };
}

/** The set that a candidate belongs to, as its index in `sets`. */
export function setOf({ sets, count }: Candidates, candidate: number): number {
  if (!(candidate >= 0 && candidate < count)) throw new Error(`candidate ${candidate} of ${count}`);
  let low = 0;
  let high = sets.length - 1;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if ((sets[middle] as StringSet).first <= candidate) low = middle;
    else high = middle - 1;
  }
  return low;
}

/** The semitones of a set's strings for its candidate number `turn`, from 0. */
export function amountsAt(strings: readonly Movable[], turn: number): number[] {
  const amounts: number[] = [];
  let rest = turn;
  for (let i = strings.length - 1; i >= 0; i--) {
    const each = strings[i] as Movable;
    amounts[i] = each.amounts[rest % each.amounts.length] as number;
    rest = Math.floor(rest / each.amounts.length);
  }
  return amounts;
}

/** The pulls of a candidate. */
export function pullsOf(candidates: Candidates, candidate: number): PlainPull[] {
  const { strings, first } = candidates.sets[setOf(candidates, candidate)] as StringSet;
  const amounts = amountsAt(strings, candidate - first);
  return strings.map(({ neck, string }, i) => ({ neck, string, semitones: amounts[i] as number }));
}
