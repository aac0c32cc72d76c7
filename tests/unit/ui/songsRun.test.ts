/** Songs as a measure on the page, with hands that say when they are done. */
import { expect, it } from 'vitest';
import type { SongBetween } from '$lib/coverage/songResults';
import { ok, refuse, type Result } from '$lib/result';
import { builtIn } from '$lib/setup/builtIns';
import { SongsRun, type Arranging } from '$lib/ui/songs/songsRun.svelte';
import { sumSentence, verdictOf } from '$lib/ui/songs/songsView';

const [A, B] = [builtIn('e9'), builtIn('c6')];
const listed = (name: string, weight = 1) => ({
  key: name,
  song: { name, weight, progression: { bars: [] } },
});

/** What a song has of it: the effort on both, nothing where it cannot be played. */
function told(name: string, before?: number, after?: number, weight = 1): SongBetween {
  const side = (effort: number | undefined) => ({
    effort: effort ?? 0,
    missing: effort === undefined ? [{ measure: 2, symbol: 'Caug' }] : [],
  });
  const [was, is] = [before ?? Infinity, after ?? Infinity];
  const kind =
    was === is
      ? before === undefined
        ? 'neither'
        : 'same'
      : before === undefined
        ? 'opened'
        : after === undefined
          ? 'closed'
          : is < was
            ? 'easier'
            : 'harder';
  return {
    ...{ name, weight, kind, before: side(before), after: side(after) },
    ...(before === undefined || after === undefined ? {} : { saved: before - after }),
  };
}

const ANSWERS = new Map<string, Result<SongBetween, string>>(
  [
    told('same', 3, 3),
    told('dearer', 3, 4.5),
    told('cheaper', 10, 8, 3),
    told('gone', 2),
    told('new', undefined, 5),
    told('never'),
  ].map((each) => [each.name, ok(each)]),
);
const answering = (hands: number, more: Partial<Arranging> = {}): Arranging => ({
  hands,
  between: (_a, _b, { name }) => Promise.resolve(ANSWERS.get(name) ?? refuse('There is none.')),
  stop: () => undefined,
  ...more,
});

it('lists what can be played now first, then what cannot any more, then by what is saved', async () => {
  const run = new SongsRun(answering(2));
  await run.run(
    A,
    B,
    [...ANSWERS.keys()].map((name) => listed(name)),
  );
  expect(run.running).toBe(false);
  expect(run.rows.map(({ key }) => key)).toEqual([
    'new',
    'gone',
    'cheaper',
    'same',
    'dearer',
    'never',
  ]);
  // 3 + 3 + 3 × 10 before, 3 + 4.5 + 3 × 8 after
  expect(run.sums).toMatchObject({ before: 36, after: 31.5, saved: 4.5 });
  expect(sumSentence(run.sums, { a: 'before', b: 'after', changed: true })).toBe(
    '1 song can be played now. 1 cannot be played any more. Effort of the 3 songs that can be played on both: 36.00 → 31.50, 4.50 saved.',
  );
  const words = run.rows.map(({ between }) =>
    verdictOf(between, { a: 'A', b: 'B', changed: false }),
  );
  expect(words[0]).toEqual({ mark: '▴', words: 'on B alone' });
  expect(words[4]).toEqual({ mark: '▾', words: '1.50 more on B' });
  expect(run.isOf(A, B)).toBe(true);
  expect(run.isOf(A, A)).toBe(false);
});

it('keeps what it has when it is stopped, and hears no answer after that', async () => {
  let answer: (found: Result<SongBetween, string>) => void = () => undefined;
  let stops = 0;
  const run = new SongsRun(
    answering(1, {
      between: (_a, _b, { name }) =>
        name === 'same'
          ? Promise.resolve(ok(told('same', 3, 3)))
          : new Promise((done) => (answer = done)),
      stop: () => void stops++,
    }),
  );
  const going = run.run(A, B, [listed('same'), listed('dearer'), listed('new')]);
  await Promise.resolve();
  await Promise.resolve();
  run.stop();
  answer(ok(told('dearer', 3, 4.5)));
  await going;
  expect([run.running, stops]).toEqual([false, 1]);
  expect(run.found.map(({ key }) => key)).toEqual(['same']);
});

it('says why it failed', async () => {
  const run = new SongsRun(answering(1));
  await run.run(A, B, [listed('same'), listed('unknown'), listed('new')]);
  expect(run.failure).toBe('There is none.');
  expect(run.running).toBe(false);
  expect(run.found.map(({ key }) => key)).toEqual(['same']);
});
