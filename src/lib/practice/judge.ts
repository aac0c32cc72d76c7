/** Whether an answer is right: by what sounds, whatever gives it. */
import { chromaOf } from '$lib/theory/pitch';
import { unreachable } from '$lib/setup/reach';
import type { Setup } from '$lib/setup/setup';
import { fits, pitchesOf, type Hold } from '$lib/search/hold';
import { compile } from '$lib/engine/instrument';
import { effortOfVoicing } from '$lib/engine/rank';
import { allowedSets, defaultMatch } from '$lib/theory/allowedSets';
import { pcSetOf } from '$lib/theory/pcset';
import type { Grade } from './schedule';
import { says } from './position';
import type { EasiestHold, FindTask, MoveTask } from './task';

/** What is wrong with a hold that was laid down as an answer, the first that is. */
export type Wrong = 'nothing' | 'unreachable' | 'chord' | 'top' | 'region';

/** An answer on the neck, looked at. */
export type Judged =
  | {
      readonly right: true;
      readonly effort: number;
      /** The easiest one, where it is easier than what was laid down. */
      readonly easier?: EasiestHold;
    }
  | { readonly right: false; readonly wrong: Wrong };

/** Judges a hold by what it sounds: any position that gives what is asked is right. */
export function judge(setup: Setup, task: FindTask | MoveTask, hold: Hold): Judged {
  const wrong = (what: Wrong): Judged => ({ right: false, wrong: what });
  if (hold.strings.length === 0) return wrong('nothing');
  if (unreachable(setup, hold.engaged) !== undefined || !fits(setup, hold))
    return wrong('unreachable');
  const pitches = pitchesOf(setup, hold);
  if (!says(pitches, task.chord)) return wrong('chord');
  if (task.kind === 'find' && chromaOf(Math.max(...pitches)) !== task.top) return wrong('top');
  const [lowest, highest] = task.frets;
  if (hold.fret < lowest || hold.fret > highest) return wrong('region');
  const set = pcSetOf(pitches);
  const missing =
    allowedSets(task.chord, defaultMatch(task.chord)).find((each) => each.set === set)?.missing ??
    [];
  const { neck, fret, slant, strings, engaged } = hold;
  const frets = strings.map(() => fret);
  const effort = effortOfVoicing(
    compile(setup),
    { neck, fret, slant, strings, frets, pitches, pitchClasses: set, missing, ways: [engaged] },
    {},
    task.chord,
  ).total;
  const isEasier = task.easiest.effort < effort - 1e-9;
  return { right: true, effort, ...(isEasier ? { easier: task.easiest } : {}) };
}

/** Seconds within which a right answer was known at once. */
const AT_ONCE_S = 5;

/** The grade of a card that ended well or was shown. */
export function gradeOf(ended: 'right' | 'shown', tries: number, seconds: number): Grade {
  if (ended === 'shown' || tries > 2) return 'again';
  if (tries === 2) return 'hard';
  return seconds <= AT_ONCE_S ? 'easy' : 'good';
}
