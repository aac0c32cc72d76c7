/**
 * Suggestions against the plain way: for every candidate the whole comparison of the setup with the
 * setup as it would be, sorted by its score.
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { withControl } from '$lib/setup/proposal';
import { STATIONS, type Setup } from '$lib/setup/setup';
import { idAt } from '$lib/setup/controlText';
import { pullsOf } from '$lib/setup/candidates';
import { changeBetween } from '$lib/coverage/change';
import { scoreOfChange } from '$lib/coverage/clarity';
import { easeAt } from '$lib/coverage/ease';
import {
  suggesting,
  type CandidateRange,
  type SuggestQuestion,
  type Suggestions,
} from '$lib/coverage/suggestion';
import { joinSuggestions } from '$lib/coverage/suggestionParts';
import { runs } from '../battery';
import { smallSetup } from './generators';

const WISHES = [
  { type: '', weight: 60 },
  { type: 'm', weight: 14 },
  { type: '7', weight: 10 },
  { type: 'm7', weight: 8 },
  { type: 'dim', weight: 1 },
  { type: '9', weight: 1 },
  { type: 'sus4', weight: 1, root: 7 },
];

const asked = (setup: Setup): fc.Arbitrary<SuggestQuestion> =>
  fc
    .record({
      station: fc.constantFrom(...STATIONS.filter((each) => !/P[6-9]|P1\d/.test(each))),
      stringsUpTo: fc.integer({ min: 1, max: 2 }),
      slants: fc.boolean(),
      sizes: fc.constantFrom<[number, number]>([3, 4], [2, 3]),
      keep: fc.constantFrom([], [{ type: '7' }], [{ type: 'm', root: 2 }, { type: '' }]),
      must: fc.boolean(),
      limit: fc.constantFrom(0, 5),
    })
    .map(({ station, must, ...rest }) => ({
      ...rest,
      wishes: WISHES,
      control: { id: idAt(setup, station), station },
      must: must ? [{ neck: setup.necks.length, string: 1 }] : [],
      never: must ? [] : [{ neck: 1, string: 2 }],
    }));

const setupAndQuestion = smallSetup.chain((setup) => fc.tuple(fc.constant(setup), asked(setup)));

/** The ranking by running the full comparison for each candidate. */
function plainRanking(setup: Setup, question: SuggestQuestion) {
  const { by, candidates } = suggesting(setup, question);
  const ranking: { candidate: number; gain: number; score: number }[] = [];
  for (let candidate = 0; candidate < candidates.count; candidate++) {
    const after = withControl(setup, {
      ...question.control,
      pulls: pullsOf(candidates, candidate),
    });
    const change = changeBetween(setup, after, by, question);
    const { gain, eases } = change;
    const can = (of: 'before' | 'after', place: number): boolean =>
      eases[of].some((each) => easeAt(each, place) > 0);
    const lost = question.keep.some(({ type, root }) =>
      Array.from({ length: 12 }, (_, chroma) => by.types.indexOf(type) * 12 + chroma).some(
        (place, chroma) =>
          (root === undefined || root === chroma) && can('before', place) && !can('after', place),
      ),
    );
    if (gain > 0 && !lost) ranking.push({ candidate, gain, score: scoreOfChange(change) });
  }
  ranking.sort((a, b) => b.score - a.score || a.candidate - b.candidate);
  return question.limit === 0 ? ranking : ranking.slice(0, question.limit);
}

describe('suggestions', () => {
  it('are ranked as by the full comparison for every candidate, to the last digit', () => {
    let compared = 0;
    fc.assert(
      fc.property(setupAndQuestion, ([setup, question]) => {
        const { candidates, within } = suggesting(setup, question);
        const { best, done } = within([0, candidates.count - 1]);
        expect(done).toBe(candidates.count);
        const plain = plainRanking(setup, question);
        compared += plain.length;
        expect(best.map(({ candidate, gain, score }) => ({ candidate, gain, score }))).toEqual(
          plain,
        );
        for (const { gain, byType } of best)
          expect(byType.reduce((sum, each) => sum + each.gain, 0)).toBeCloseTo(gain, 6);
      }),
      { numRuns: runs(5, 400) },
    );
    expect(compared).toBeGreaterThan(100);
  });

  it('are the same whole or in pieces, joined in any order', () => {
    fc.assert(
      fc.property(
        setupAndQuestion,
        fc.array(fc.nat(200), { maxLength: 6 }),
        fc.array(fc.nat(1000), { minLength: 7, maxLength: 7 }),
        ([setup, question], cuts, order) => {
          const { candidates, within } = suggesting(setup, question);
          const last = candidates.count - 1;
          fc.pre(last >= 0);
          const starts = [...new Set([0, ...cuts.filter((cut) => cut <= last)])].sort(
            (a, b) => a - b,
          );
          const ranges = starts.map((first, place): CandidateRange => [
            first,
            (starts[place + 1] ?? last + 1) - 1,
          ]);
          const parts = ranges
            .map((range, place) => ({ part: within(range), at: order[place] ?? 0 }))
            .sort((a, b) => a.at - b.at)
            .map(({ part }) => part);
          const joined = parts
            .slice(1)
            .reduce(
              (sofar, part) => joinSuggestions([part, sofar]),
              parts[0] as (typeof parts)[number],
            );
          expect(joined).toEqual(within([0, last]));
          expect(joinSuggestions([...parts, ...parts])).toEqual(joined);
          // and where each is told what the ones before it have found
          let known: Suggestions | undefined;
          for (const range of parts.map(({ ranges: [own] }) => own as CandidateRange)) {
            const { best, limit } = known ?? { best: [], limit: 0 };
            const isFull = limit > 0 && best.length === limit;
            const part = within(range, isFull ? best.at(-1)?.score : 0);
            known = known === undefined ? part : joinSuggestions([known, part]);
          }
          expect(known).toEqual(joined);
        },
      ),
      { numRuns: runs(60) },
    );
  });
});
