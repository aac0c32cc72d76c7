/** Choices that come to nearly the same: told once, and never where a player would hear a difference. */
import { expect, it } from 'vitest';
import { foldNear } from '$lib/coverage/nearTies';

const row = (name: string, score: number, major: number, opens: string[] = ['C']) => ({
  ...{ name, score, gain: score },
  byType: [
    { type: '', gain: major },
    { type: 'm', gain: score - major },
  ],
  opens: opens.map((type) => ({ type, root: 0 })),
});
const names = (rows: ReturnType<typeof row>[], percent?: number) =>
  foldNear(rows, percent).map(({ row: { name }, near }) => [
    name,
    ...near.map((each) => each.name),
  ]);

it('folds under the first what is within four hundredths of it in every part', () => {
  // of 100: b is 1 away in score and part; c as good but for other types; d opens another chord; e is 3 away
  const rows = [
    row('a', 100, 60),
    row('b', 99, 60),
    row('c', 99, 50),
    row('d', 98.5, 60, ['C', 'D']),
    row('e', 97, 60),
  ];
  expect(names(rows, 2)).toEqual([['a', 'b'], ['c'], ['d'], ['e']]);
  expect(names(rows)).toEqual([['a', 'b', 'e'], ['c'], ['d']]);
  expect(names(rows, 0)).toEqual([['a'], ['b'], ['c'], ['d'], ['e']]);
});

it('lets one new chord of ten be another one, and no more', () => {
  const nine = ['C', 'D', 'E', 'F', 'G', 'A', 'B', 'H', 'I'];
  const rows = [
    row('a', 100, 60, nine),
    // of ten chords in all, nine are the same; then of eleven
    row('b', 99, 60, [...nine, 'J']),
    row('c', 99, 60, [...nine, 'K', 'L']),
  ];
  expect(names(rows)).toEqual([['a', 'b'], ['c']]);
});
