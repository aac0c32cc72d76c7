/** What is asked of a thread about a song, and its answer: the same wherever it is worked out. */
import { figuresWith } from '$lib/coverage/songPulls';
import type { Setup } from '$lib/setup/setup';
import type { SongBetween, SongFigures } from '$lib/coverage/songResults';
import { songBetween, songFigures, songOnBoth, type Song } from '$lib/coverage/songs';

/** What a thread is asked: a song before and after a change, on two setups, or its figures on one. */
export type SongTask =
  | { readonly how: 'change' | 'both'; readonly a: Setup; readonly b: Setup; readonly song: Song }
  | {
      readonly how: 'figures';
      readonly setup: Setup;
      readonly song: Song;
      readonly slants: boolean;
      /** The lever that the setup has more than one on which these are its figures. */
      readonly added?: { readonly control: string; readonly before: SongFigures };
    };
/** Answers a task: the same here and in a thread. */
export const answerSong = (task: SongTask): SongBetween | SongFigures =>
  task.how === 'figures'
    ? task.added === undefined
      ? songFigures(task.setup, task.song, task.slants)
      : figuresWith(task.setup, task.song, task.slants, task.added.control, task.added.before)
    : (task.how === 'change' ? songBetween : songOnBoth)(task.a, task.b, task.song);
