/** Changes measured by songs on the page: which stand first, what is said of them, and what a stop leaves. */
import { expect, it } from 'vitest';
import { songNow, songRepertoire, songsWith, type SavedForSongs } from '$lib/answers/songs';
import { ok, refuse } from '$lib/result';
import { builtIn } from '$lib/setup/builtIns';
import { withControl } from '$lib/setup/proposal';
import { readProgression } from '$lib/arrange/readText';
import { SongPullsRun, type ArrangingPulls } from '$lib/ui/songs/songPullsRun.svelte';
import { savedLines } from '$lib/ui/songs/songsView';

const SETUP = builtIn('lap6-c6');
const SAVED: Readonly<Record<string, SavedForSongs>> = {
  much: { opened: 0, saved: 3, songs: [] },
  opens: { opened: 1, saved: -2, songs: [] },
  closes: { opened: -1, saved: 9, songs: [] },
  little: { opened: 0, saved: 1, songs: [] },
};
const tried = Object.keys(SAVED).map((key, at) => ({ key, score: 10 - at, after: SETUP }));
const arranging = (more: Partial<ArrangingPulls> = {}): ArrangingPulls => {
  let at = 0;
  return {
    hands: 1,
    now: () => Promise.resolve(ok({ missing: 0, cost: 0 })),
    with: () => Promise.resolve(ok(SAVED[tried[at++]?.key ?? ''] as SavedForSongs)),
    stop: () => undefined,
    ...more,
  };
};
const keys = (run: SongPullsRun): string[] => run.inOrder(tried).map(({ key }) => key);

it('puts what makes a song playable before all that is saved, and what takes one away last', async () => {
  const run = new SongPullsRun(arranging());
  // as they were found, by their chords, while nothing is arranged
  expect(keys(run)).toEqual(['much', 'opens', 'closes', 'little']);
  await run.run(SETUP, [], tried);
  expect(run.known).toBe(4);
  expect(keys(run)).toEqual(['opens', 'much', 'little', 'closes']);
});

it('keeps what it has when it is stopped, leaves what is not known behind, and says why it ended', async () => {
  let many = 0;
  const run: SongPullsRun = new SongPullsRun(
    arranging({
      with: () => {
        if (++many === 2) run.stop();
        return Promise.resolve(ok(SAVED['little'] as SavedForSongs));
      },
    }),
  );
  await run.run(SETUP, [], tried);
  expect(run.known).toBe(1);
  expect(run.running).toBe(false);
  expect(keys(run)[0]).toBe('much');

  const failing = new SongPullsRun(arranging({ with: () => Promise.resolve(refuse('No room.')) }));
  await failing.run(SETUP, [], tried);
  expect([failing.failure, failing.running]).toEqual(['No room.', false]);
});

it('says songs that can be played now first, then the most that is saved or costs more', () => {
  const song = (name: string, saved: number) =>
    ({ name, saved, kind: saved > 0 ? 'easier' : 'harder' }) as const;
  expect(
    savedLines({
      opened: 1,
      saved: 2.25,
      songs: [
        song('air', 0.5),
        song('blues', -1.25),
        song('carol', 2),
        song('dance', 1),
        { name: 'elegy', kind: 'opened', saved: null },
      ],
    }),
  ).toEqual([
    '▴ elegy can be played now',
    '2.25 saved in all: ▴ carol 2.00 saved, ▾ blues 1.25 more, ▴ dance 1.00 saved, and 1 more',
  ]);
  expect(
    savedLines({ opened: 0, saved: 0, songs: [{ name: 'air', kind: 'same', saved: 0 }] }),
  ).toEqual(['nothing changes in these songs']);
});

it('asks the engine the same as the terminal does: a lowered sixth gives the augmented chord', () => {
  const song = { name: 'lifted', weight: 2, ...readProgression('C | Caug') };
  // a measure each, twice
  expect(songRepertoire([song])).toEqual([
    { type: '', weight: 2 },
    { type: 'aug', weight: 2 },
  ]);
  const now = songNow(SETUP, song);
  expect(now.missing).toBe(1);
  const after = withControl(SETUP, {
    ...{ id: 'LKL', station: 'LKL' },
    pulls: [{ neck: 1, string: 3, semitones: -1 }],
  });
  const { opened, songs } = songsWith(SETUP, after, [song], [now]);
  expect(opened).toBe(2);
  expect(songs).toEqual([{ name: 'lifted', kind: 'opened', saved: null }]);
});
