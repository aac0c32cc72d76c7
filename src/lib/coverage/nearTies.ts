/** Choices that come to nearly the same for a player, told once. */
import { scoreOfPart } from './clarity';
import type { ToldTogether } from './foundTogether';

/**
 * So many hundredths of a score are no reason to prefer one choice to another: on one setup and the next, and from one
 * repertoire to the next, scores differ by more. A choice of ours, looked at on the E9 with two strings at each of two
 * stations: of the best thirty twelve stand under others then, such as a lever that pulls the same notes an octave
 * lower; with half as much three do, and the list says the same over and over.
 */
export const NEAR_PERCENT = 4;
/** So much of the new chords that either brings must be the same. */
const SHARED = 0.9;

/** A choice with those that come to nearly the same, in their order. */
export interface Folded<T> {
  readonly row: T;
  readonly near: readonly T[];
}

type Told = Pick<ToldTogether, 'score' | 'gain' | 'opens' | 'byType'>;

/** The share of the new chords of two choices that both bring; 1 where neither brings any. */
function shared(a: Told, b: Told): number {
  const [one, other] = [a, b].map(
    ({ opens }) => new Set(opens.map(({ type, root }) => `${type} ${root}`)),
  ) as [Set<string>, Set<string>];
  const all = new Set([...one, ...other]).size;
  return all === 0 ? 1 : (one.size + other.size - all) / all;
}

/**
 * Do two choices bring the same new chords but for one in ten, and nearly as much of each chord type: no part of the
 * score differs by more than so many hundredths of the whole?
 */
function isNear(a: Told, b: Told, percent: number): boolean {
  const most = (percent / 100) * Math.max(a.score, b.score);
  if (Math.abs(a.score - b.score) > most || shared(a, b) < SHARED) return false;
  const partOf = (of: Told, type: string): number =>
    scoreOfPart(of.byType.find((each) => each.type === type)?.gain ?? 0, of.gain, of.score);
  return [...a.byType, ...b.byType].every(
    ({ type }) => Math.abs(partOf(a, type) - partOf(b, type)) <= most,
  );
}

/** Folds rows, the best first, each under the first one that it comes to nearly the same as; 0 leaves all apart. */
export function foldNear<T extends Told>(
  rows: readonly T[],
  percent: number = NEAR_PERCENT,
): Folded<T>[] {
  const folded: { row: T; near: T[] }[] = [];
  for (const row of rows) {
    const like = percent === 0 ? undefined : folded.find((each) => isNear(each.row, row, percent));
    if (like === undefined) folded.push({ row, near: [] });
    else like.near.push(row);
  }
  return folded;
}
