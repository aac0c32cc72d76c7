/**
 * Hands-free stepping: goes on when a string is held in tune, and not before it is struck anew, so that
 * one long note never tunes two strings. A pure machine: readings with their time in, a state out.
 */

/** What the tuner hears at a moment. */
export interface Reading {
  /** Milliseconds on any clock that only goes forward. */
  readonly atMs: number;
  /** Cents above the wanted target; nothing where no pitch is heard. */
  readonly cents?: number | undefined;
  /** Loudness, 1 is full scale. */
  readonly level: number;
}

export interface HoldSettings {
  /** In tune within this. */
  readonly withinCents: number;
  /** For so long without a break. */
  readonly holdMs: number;
}

/** As an ear and a hand want it: two cents are hardly heard, and nine tenths of a second are no accident. */
export const DEFAULT_HOLD: HoldSettings = { withinCents: 2, holdMs: 900 };

/** A reading that fails for so long (a finger on the string, a noise) breaks no hold. */
const GAP_MS = 200;
/** Farther off than this is another note. */
const OTHER_NOTE_CENTS = 60;
/** A string that is struck anew jumps up by this factor (6 dB) over the quietest since. */
const STRUCK_FACTOR = 2;

export interface HoldState {
  /** From 0; `steps` when all is done. */
  readonly step: number;
  /** Since when the string is in tune; nothing while it is not. */
  readonly sinceMs?: number;
  /** When it was last heard in tune. */
  readonly lastMs?: number;
  /** Still the note that tuned the step before: waits for a new one. */
  readonly waiting: boolean;
  /** The quietest level while waiting. */
  readonly quietest: number;
  /** How much of the hold is done, 0 to 1. */
  readonly done: number;
}

/** At a step (from 0), with nothing heard so far. */
export const startHold = (step = 0): HoldState => ({
  step,
  waiting: false,
  quietest: Infinity,
  done: 0,
});

/** To another step by hand: nothing has to be waited for. */
export const goTo = (step: number): HoldState => startHold(step);

function released(state: HoldState, { cents, level }: Reading): HoldState {
  const struck = level > STRUCK_FACTOR * state.quietest;
  const other = cents === undefined || Math.abs(cents) > OTHER_NOTE_CENTS;
  return struck || other
    ? { ...startHold(state.step) }
    : { ...state, quietest: Math.min(state.quietest, level) };
}

/** The state after one more reading. */
export function hear(
  before: HoldState,
  reading: Reading,
  steps: number,
  { withinCents, holdMs }: HoldSettings = DEFAULT_HOLD,
): HoldState {
  const state = before.waiting ? released(before, reading) : before;
  if (state.waiting || state.step >= steps) return state;
  const { atMs, cents } = reading;
  if (cents === undefined || Math.abs(cents) > withinCents) {
    const fresh = state.lastMs !== undefined && atMs - state.lastMs <= GAP_MS;
    return fresh ? state : startHold(state.step);
  }
  const sinceMs = state.sinceMs ?? atMs;
  const done = Math.min(1, (atMs - sinceMs) / holdMs);
  if (done < 1) return { ...state, sinceMs, lastMs: atMs, done };
  return { step: state.step + 1, waiting: true, quietest: reading.level, done: 0 };
}
