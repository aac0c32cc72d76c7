/** What was said of single chords, when the text around them is changed. */
import { describe, expect, it } from 'vitest';
import { stepsOf } from '$lib/arrange/progression';
import { readProgression } from '$lib/arrange/readText';
import { movedLocks, indexesAfter } from '$lib/ui/arrange/locks';

const steps = (text: string) => stepsOf(readProgression(text).progression);
const after = (before: string, now: string, locked: readonly number[]) => {
  const locks = new Map(locked.map((index) => [index, { fret: index }]));
  return [...movedLocks(locks, indexesAfter(steps(before), steps(now)))].map(([index, own]) => [
    own.fret,
    index,
  ]);
};

describe('a lock stays with its chord', () => {
  it('where a chord is put in before it, in the middle and at the end', () => {
    expect(after('G | C | D | G', 'Em | G | C | D | G', [0, 3])).toEqual([
      [0, 1],
      [3, 4],
    ]);
    expect(after('G | C | D | G', 'G | C | Am7 | D | G', [0, 1, 2, 3])).toEqual([
      [0, 0],
      [1, 1],
      [2, 3],
      [3, 4],
    ]);
    expect(after('G | C', 'G | C | D', [1])).toEqual([[1, 1]]);
  });
  it('where a chord is taken out', () => {
    expect(after('G | C | D | G', 'G | D | G', [0, 1, 2])).toEqual([
      [0, 0],
      [2, 1],
    ]);
  });
  it('while a chord beside it is being written', () => {
    expect(after('G | C | D', 'G | Cq | D', [0, 1, 2])).toEqual([
      [0, 0],
      [2, 2],
    ]);
  });
});

it('goes with a chord that is another one now, and is not given to a neighbour', () => {
  expect(after('G | C | D', 'G | Am | D', [1])).toEqual([]);
  expect(after('G', '', [0])).toEqual([]);
});
