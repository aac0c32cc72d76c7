/** What is asked of a thread about songs and whole setups, and its answer: the same wherever it is worked out. */
import { proposedFrom, type ProposalQuestion, type ProposedSetup } from '$lib/coverage/proposal';
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
      /** The levers that the setup has more than one on which these are its figures. */
      readonly added?: { readonly controls: readonly string[]; readonly before: SongFigures };
    }
  | {
      readonly how: 'propose';
      readonly bare: Setup;
      readonly question: ProposalQuestion;
      readonly start: number;
    };

/** What a task is answered with. */
export type SongAnswer<T extends SongTask> = T extends { how: 'figures' }
  ? SongFigures
  : T extends { how: 'propose' }
    ? ProposedSetup
    : SongBetween;

/** Answers a task: the same here and in a thread. */
export function answerSong(task: SongTask): SongAnswer<SongTask> {
  switch (task.how) {
    case 'change':
      return songBetween(task.a, task.b, task.song);
    case 'both':
      return songOnBoth(task.a, task.b, task.song);
    case 'figures':
      return task.added === undefined
        ? songFigures(task.setup, task.song, task.slants)
        : figuresWith(task.setup, task.song, task.slants, task.added.controls, task.added.before);
    case 'propose':
      return proposedFrom(task.bare, task.question, task.start);
  }
}
