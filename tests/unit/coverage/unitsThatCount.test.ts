/** How much of a joint search is left: what its bounds skip is no work. */
import { expect, it } from 'vitest';
import {
  COUNTS,
  unitsDone,
  unitsThatCount,
  type Counts,
  type FoundTogether,
  type Weighed,
} from '$lib/coverage/foundTogether';

const weighed = (score: number): Weighed => ({
  ...{ picks: [score], strings: 1, sum: score, score },
  name: String(score),
});
const found = (best: readonly number[], limit: number): FoundTogether => ({
  ...{ question: 'q', limit, candidates: 100, done: 30, units: 10 },
  ranges: [
    [0, 1],
    [4, 4],
  ],
  counts: Object.fromEntries(COUNTS.map((name) => [name, 0])) as unknown as Counts,
  ...{ best: best.map(weighed), frontier: [] },
});
// units 2, 3 and 5 to 9 are left
const BOUNDS = Float64Array.from([99, 90, 80, 70, 60, 50, 40, 30, 20, 10]);

it('counts the units whose bound lies above the last of the best, and all while there are not enough', () => {
  expect(unitsDone(found([], 2))).toBe(3);
  // 80, 70 and 50 lie above 45; of the done ones 99, 90 and 60 do too, and are no work
  expect(unitsThatCount(found([65, 45], 2), BOUNDS)).toBe(3);
  expect(unitsThatCount(found([65], 2), BOUNDS)).toBe(7);
});
