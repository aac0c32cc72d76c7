/**
 * Proposed setups measured by songs: all that the starts came to are arranged, and in the best of them each control is
 * exchanged for what the songs have more of.
 */
import {
  pullsAt,
  spreadOf,
  type ProposalQuestion,
  type Proposals,
  type Spread,
} from '$lib/coverage/proposal';
import { byUseForSongs, savedForSongs, type SavedForSongs } from '$lib/coverage/songPulls';
import { inOrderOfUse, type SongBetween } from '$lib/coverage/songResults';
import type { Song } from '$lib/coverage/songs';
import { withControl } from '$lib/setup/proposal';
import type { Setup } from '$lib/setup/setup';
import { slantsByDefault } from '$lib/search/nutIndex';
import type { SongTask } from './songTask';
import type { SongThreads } from './songsPool';
import { figuresNow } from './suggestSongs';

/** So many of the best by chord types are tried by the songs in the place of each control. */
const TRIED = 5;
/** All controls are gone through at most so often. */
const MOST_ROUNDS = 3;

/** A proposal with its songs. */
export interface ProposedForSongs {
  readonly setup: Setup;
  readonly songs: readonly SongBetween[];
  /** How many starts came to it, before any exchange by the songs. */
  readonly starts: number;
  /** How many controls were exchanged by the songs. */
  readonly exchanged: number;
  /** What the starts save against the setup as it is, before any exchange by the songs. */
  readonly spread: Spread;
}

interface Standing {
  readonly setup: Setup;
  readonly saved: SavedForSongs & { readonly score: number };
}

/** The best for the songs. */
export async function proposedForSongs(
  threads: SongThreads,
  today: Setup,
  question: ProposalQuestion,
  { best }: Proposals,
  songs: readonly Song[],
): Promise<ProposedForSongs> {
  const before = await figuresNow(threads, today, songs);
  const slants = slantsByDefault(today);
  /** Several at once, so that every thread has something to do. */
  const standing = async (
    setups: readonly { setup: Setup; score: number }[],
  ): Promise<Standing[]> => {
    const figures = await threads.answer(
      setups.flatMap(({ setup }) =>
        songs.map((song) => ({ how: 'figures', setup, song, slants }) satisfies SongTask),
      ),
    );
    return setups.map(({ setup, score }, at) => {
      const own = figures.slice(at * songs.length, (at + 1) * songs.length);
      return { setup, saved: { ...savedForSongs(songs, before, own), score } };
    });
  };
  const all = await standing(best);
  const saves = all.flatMap(({ saved: { saved } }, at) =>
    new Array<number>(best[at]?.starts ?? 1).fill(saved),
  );
  const order = (a: Standing, b: Standing): number => byUseForSongs(a.saved, b.saved);
  const first = all.reduce((x, y) => (order(y, x) < 0 ? y : x));
  let now = first;
  let exchanged = 0;
  for (let round = 0, changed = true; changed && round < MOST_ROUNDS; round++) {
    changed = false;
    for (const station of question.stations) {
      const there = now.setup.controls.find((control) => control.station === station);
      if (there === undefined) continue;
      const others = pullsAt(now.setup, station, question, TRIED).map(({ pulls }) => ({
        setup: withControl(now.setup, { ...there, pulls }),
        score: now.saved.score,
      }));
      const better = (await standing(others)).reduce((x, y) => (order(y, x) < 0 ? y : x), now);
      if (better === now) continue;
      now = better;
      changed = true;
      exchanged++;
    }
  }
  const tasks = songs.map((song) => ({ how: 'change', a: today, b: now.setup, song }) as const);
  return {
    setup: now.setup,
    songs: inOrderOfUse(await threads.answer(tasks)),
    starts: best[all.indexOf(first)]?.starts ?? 1,
    exchanged,
    spread: spreadOf(saves),
  };
}
