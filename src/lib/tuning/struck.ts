/**
 * Which strings were struck one after the other, for open notes that are told by playing them: readings with
 * their time in, a note each time a string has stood for long enough. It has to be struck anew, or another one.
 */
import type { Midi } from '$lib/theory/pitch';
import { hear, startHold, type HoldState } from './hold';

export interface StruckState {
  readonly hold: HoldState;
  /** The note that is heard now, or was told last. */
  readonly midi: Midi | undefined;
}

export interface StruckReading {
  /** Milliseconds on any clock that only goes forward. */
  readonly atMs: number;
  /** Nothing where no pitch is heard. */
  readonly hz?: number | undefined;
  /** Loudness, 1 is full scale. */
  readonly level: number;
}

/** A string that is told need not be in tune, but nearer to this note than to the next; and this is no passing noise. */
const HOLD = { withinCents: 45, holdMs: 500 } as const;
const ENDLESS = Infinity;

/** Nothing was heard yet. */
export const NOTHING_STRUCK: StruckState = { hold: startHold(), midi: undefined };

/** The state after one more reading, and the note that it tells, if it does. */
export function struck(
  { hold, midi }: StruckState,
  { atMs, hz, level }: StruckReading,
  referenceHz = 440,
): { state: StruckState; told?: Midi } {
  const exact = hz === undefined ? undefined : 69 + 12 * Math.log2(hz / referenceHz);
  const nearest = exact === undefined ? undefined : Math.round(exact);
  const isOther = nearest !== undefined && nearest !== midi && !hold.waiting;
  const note = isOther ? nearest : midi;
  const before = isOther ? startHold(hold.step) : hold;
  const cents = exact === undefined || note === undefined ? undefined : 100 * (exact - note);
  const next = hear(before, { atMs, cents, level }, ENDLESS, HOLD);
  const state = { hold: next, midi: note };
  return next.step > hold.step && note !== undefined ? { state, told: note } : { state };
}
