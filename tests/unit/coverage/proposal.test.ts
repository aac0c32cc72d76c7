/** Whole setups proposed from a neck: what is promised of them, and how the trade's own setups stand beside them. */
import { describe, expect, it } from 'vitest';
import { changeBetween } from '$lib/coverage/change';
import { scoreOfChange } from '$lib/coverage/clarity';
import {
  joinProposals,
  proposedFrom,
  pullsIn,
  scoreAgainst,
  stationsToFill,
  withOnly,
  type ProposalQuestion,
} from '$lib/coverage/proposal';
import { yardstick } from '$lib/coverage/yardstick';
import { builtIn } from '$lib/setup/builtIns';
import { withControl } from '$lib/setup/proposal';
import { readSetup } from '$lib/setup/readSetup';
import type { Station } from '$lib/setup/setup';
import { setupFileOf } from '$lib/setup/writeSetup';

const WISHES = [
  { type: '', weight: 6 },
  { type: 'm', weight: 2 },
  { type: '7', weight: 1 },
];
const asked = (stations: readonly Station[], stringsUpTo = 1): ProposalQuestion => ({
  ...{ stations, stringsUpTo, wishes: WISHES, seed: 1, must: [], never: [] },
  ...{ sizes: [3, 4], slants: false },
});

const bare = withOnly(builtIn('e9'), []);

it('gives one station what weighing every pull by itself gives it', () => {
  const by = yardstick(WISHES);
  let best = { score: 0, text: '' };
  for (const [index] of (bare.necks[0]?.strings ?? []).entries())
    for (const semitones of [-3, -2, -1, 1, 2, 3]) {
      const pulls = [{ neck: 1, string: index + 1, semitones }];
      const after = withControl(bare, { id: 'LKL', station: 'LKL', pulls });
      const score = scoreOfChange(changeBetween(bare, after, by, { sizes: [3, 4], slants: false }));
      if (score > best.score) best = { score, text: pullsIn(after) };
    }
  const found = proposedFrom(bare, asked(['LKL']), 0);
  expect(pullsIn(found.setup)).toBe(best.text);
  expect(found.score).toBeCloseTo(best.score, 9);
});

describe('from a neck with some of its controls', () => {
  const kept = withOnly(builtIn('e9'), ['B', 'LKR']);

  it('fills as many stations as are asked for, and leaves alone what stays', () => {
    const stations = stationsToFill(kept, 2, 2);
    expect(stations).toEqual(['P1', 'LKL']);
    const { setup } = proposedFrom(kept, asked(stations), 1);
    expect(setup.controls.map(({ station }) => station)).toEqual(['P1', 'P2', 'LKL', 'LKR']);
    for (const id of ['B', 'LKR'])
      expect(setup.controls.find((each) => each.id === id)).toEqual(
        builtIn('e9').controls.find((each) => each.id === id),
      );
    expect(readSetup(setupFileOf(setup)).ok).toBe(true);
  });

  it('is the same from the same start, and told with how far the starts lie apart', () => {
    const question = asked(['P1', 'P3']);
    const found = [0, 1, 2, 1].map((start) => proposedFrom(kept, question, start));
    expect(found[3]).toEqual(found[1]);
    const { best, spread } = joinProposals(found);
    const scores = found.map(({ score }) => score).sort((a, b) => a - b);
    expect(spread).toEqual({
      most: scores[3],
      median: ((scores[1] ?? 0) + (scores[2] ?? 0)) / 2,
      least: scores[0],
    });
    expect(best.reduce((sum, { starts }) => sum + starts, 0)).toBe(4);
    expect(best[0]?.score).toBe(spread.most);
  });
});

// The trade's own setups do not come out: their pedals move both octaves of a note, so that a player finds a
// change in either register under one foot, and that repeats a chord where the measure counts different ones.
// Beside them what is proposed scores higher by the very measure, which is all that a search can promise.
it.each([
  { id: 'e9', control: 'A' },
  { id: 'c6', control: 'P4' },
] as const)(
  '$id: $control moves two octaves of one note, and scores less than what is proposed',
  ({ id, control }) => {
    const neck = withOnly(builtIn(id), []);
    const own = builtIn(id).controls.find((each) => each.id === control);
    const station = own?.station ?? 'P1';
    const pulled = own?.pulls.map(
      ({ string }) => neck.necks[0]?.strings[string - 1]?.open.midi ?? 0,
    );
    expect(pulled).toHaveLength(2);
    expect(((pulled?.[0] ?? 0) - (pulled?.[1] ?? 1)) % 12).toBe(0);
    const question = asked([station], 2);
    const trade = scoreAgainst(neck, withOnly(builtIn(id), [control]), question);
    const { score } = proposedFrom(neck, question, 0);
    expect(trade).toBeGreaterThan(0);
    expect(score).toBeGreaterThan(trade);
  },
);
