/** How a card is answered with both hands at the instrument: by playing, heard by the microphone. */
import { chromaOf, type Midi } from '$lib/theory/pitch';
import type { Hold } from '$lib/search/hold';
import { says } from './position';
import type { Task } from './task';

/**
 * What is heard as an answer: `grip`, the pitches of a hold that are played, or `strokes`, any string struck as often
 * as the number of an answer says. A name cannot be played; so its number is.
 */
export interface ByPlaying {
  readonly by: 'grip' | 'strokes';
  /** What answers the card; for `strokes` what it is about. */
  readonly hold: Hold;
}

/** How a card is answered by playing. */
export function byPlaying(task: Task): ByPlaying | undefined {
  switch (task.kind) {
    case 'find':
    case 'move':
    case 'tune':
      return { by: 'grip', hold: task.hold };
    case 'name':
      return { by: 'strokes', hold: task.hold };
    case 'hear': {
      const hold = task.plays.at(-1);
      return hold === undefined ? undefined : { by: 'grip', hold };
    }
  }
}

/** Whether pitches that were heard answer a card as well as the course's own do, wherever they were played. */
export function answersElsewhere(task: Task, heard: readonly Midi[]): boolean {
  if (task.kind !== 'find' && task.kind !== 'move') return false;
  if (heard.length < 2 || !says(heard, task.chord)) return false;
  return task.kind === 'move' || chromaOf(Math.max(...heard)) === task.top;
}

/** Seconds of silence after the last stroke, from which a number of strokes is complete. */
export const COUNTED_S = 1.3;
/** Seconds without any stroke after which the answer is shown. */
export const SHOWN_AFTER_S = 60;
/** Seconds from the beginning of what is to be heard until a stroke is the player's: two holds are bent into each other. */
export const soundsFor = (plays: readonly Hold[]): number => (plays.length > 1 ? 2.2 : 0.9);
