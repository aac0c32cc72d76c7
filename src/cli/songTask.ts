/** What is asked of a thread about a song, and its answer: the same wherever it is worked out. */
import type { Setup } from '$lib/setup/setup';
import {
  songBetween,
  songFigures,
  songOnBoth,
  type Song,
  type SongBetween,
  type SongFigures,
} from '$lib/coverage/songs';

/** What a thread is asked: a song before and after a change, on two setups, or its figures on one. */
export type SongTask =
  | { readonly how: 'change' | 'both'; readonly a: Setup; readonly b: Setup; readonly song: Song }
  | {
      readonly how: 'figures';
      readonly setup: Setup;
      readonly song: Song;
      readonly slants: boolean;
    };
/** Answers a task: the same here and in a thread. */
export const answerSong = (task: SongTask): SongBetween | SongFigures =>
  task.how === 'figures'
    ? songFigures(task.setup, task.song, task.slants)
    : (task.how === 'change' ? songBetween : songOnBoth)(task.a, task.b, task.song);
