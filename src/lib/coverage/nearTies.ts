/** Choices that come to nearly the same for a player, told once. */
import { scoreOfPart } from './clarity';
import type { ToldTogether } from './foundTogether';

/**
 * So many hundredths of a score are no reason to prefer one choice to another: on one setup and the next, and from one
 * repertoire to the next, scores differ by more. A choice of ours.
 */
export const NEAR_PERCENT = 2;

/** A choice with those that come to nearly the same, in their order. */
export interface Folded<T> {
  readonly row: T;
  readonly near: readonly T[];
}

type Told = Pick<ToldTogether, 'score' | 'gain' | 'opens' | 'byType'>;

const openedBy = ({ opens }: Told): string =>
  opens
    .map(({ type, root }) => `${type} ${root}`)
    .sort()
    .join();

/**
 * Do two choices bring the same new chords, and nearly as much of each chord type: no part of the score differs by more
 * than so many hundredths of the whole?
 */
function isNear(a: Told, b: Told, percent: number): boolean {
  const most = (percent / 100) * Math.max(a.score, b.score);
  if (Math.abs(a.score - b.score) > most || openedBy(a) !== openedBy(b)) return false;
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
