/**
 * Letters that were typed in one go. They are one step: the later takes the place of the earlier. Earlier
 * programs left a step for each, of which only the last one is led to.
 */
import type { Step } from './storedDocument';

/** A pause in typing that is long enough to begin a new step. */
export const PAUSE_MS = 1500;

/** Whether a step is the letter before another one, and nothing more. */
export const isLetterBefore = (later: Step, { number, after, label, at }: Step): boolean =>
  later.number === number + 1 &&
  later.after === after &&
  after !== 0 &&
  later.label === label &&
  later.at >= at &&
  later.at - at < PAUSE_MS;
