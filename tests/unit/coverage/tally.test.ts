/** The tally is the search's own counts, summed: each chord asked for on each root. */
import { describe, expect, it } from 'vitest';
import { builtIn } from '$lib/setup/builtIns';
import { movePull } from '$lib/setup/edits/pulls';
import { answer } from '$lib/effort/answer';
import { readQuestion } from '$lib/effort/question';
import { EVERYDAY_REPERTOIRE } from '$lib/coverage/repertoire';
import { tallyOf } from '$lib/coverage/tally';

const ROOTS = 'C Db D Eb E F F# G Ab A Bb B'.split(' ');

describe('voicings of a chord type on all roots are those that the search finds for each', () => {
  it.each(['e9', 'double', 'lap6-c6'] as const)('on %s', (id) => {
    const setup = builtIn(id);
    for (const { type, voicings } of tallyOf(setup, EVERYDAY_REPERTOIRE)) {
      const found = ROOTS.map((root) => {
        const question = readQuestion(setup, { chord: root + type });
        if (!question.ok) throw new Error(root + type);
        return answer(setup, question.value).count;
      });
      expect(voicings, type).toBe(found.reduce((sum, count) => sum + count, 0));
    }
  });
});

it('an edit that moves nothing changes nothing, and a pull less loses what only it gave', () => {
  const e9 = builtIn('e9');
  const before = tallyOf(e9, EVERYDAY_REPERTOIRE);
  const cell = { id: 'LKV', neck: 1, string: 5 };
  const same = movePull(e9, cell, -1);
  const less = movePull(e9, cell, 0);
  if (!same.ok || !less.ok) throw new Error();
  expect(tallyOf(same.value, EVERYDAY_REPERTOIRE)).toEqual(before);
  tallyOf(less.value, EVERYDAY_REPERTOIRE).forEach(({ voicings }, place) => {
    expect(voicings).toBeLessThanOrEqual(before[place]?.voicings ?? 0);
  });
});
