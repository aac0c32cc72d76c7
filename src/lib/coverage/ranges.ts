/** Ranges of numbered work. */

/** First and last, both included. */
export type CandidateRange = readonly [first: number, last: number];

/** Ranges put in order, those that touch or overlap made one. */
export function joinedRanges(ranges: readonly CandidateRange[]): CandidateRange[] {
  const all: [number, number][] = [];
  for (const [first, last] of [...ranges].sort((a, b) => a[0] - b[0])) {
    const before = all.at(-1);
    if (before !== undefined && first <= before[1] + 1) before[1] = Math.max(before[1], last);
    else all.push([first, last]);
  }
  return all;
}
