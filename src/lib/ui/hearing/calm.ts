/**
 * What is shown of what is heard: calm, so that it can be read while playing. A fresh stroke is shown at once;
 * while it rings a string goes only when it is missed twice, and figures move only when they say something new.
 */
import type { BarOff } from '$lib/hearing/bar';
import type { GripReading } from '$lib/hearing/stream';

/** A string as it is shown. */
export interface ShownString {
  readonly sounds: boolean;
  readonly certain: boolean;
  /** Nothing where it does not sound, or cannot be told. */
  readonly cents?: number;
  /** Readings in a row in which it was missed. */
  readonly missed: number;
}

/** A change smaller than this, in cents, and than what is unsure about it, is not shown. */
const LEAST_CENTS = 0.4;
/** Missed so often in a row, a string that rings has gone. */
const GONE = 2;
/** The bar is shown to have moved from so many millimetres on. */
const LEAST_MM = 0.15;

/** What is shown after one more reading. */
export function shownAfter(
  before: readonly ShownString[],
  { stage, heard }: GripReading,
): ShownString[] {
  return heard.strings.map(({ sounds, certain, cents, unsure = 0 }, at): ShownString => {
    const was = before[at];
    if (!sounds) {
      const missed = (was?.missed ?? 0) + 1;
      if (stage === 'ringing' && was?.sounds === true && missed < GONE) return { ...was, missed };
      return { sounds: false, certain, missed };
    }
    if (!certain || cents === undefined) return { sounds: true, certain: false, missed: 0 };
    const least = Math.max(LEAST_CENTS, Math.min(2, unsure));
    const stays =
      stage !== 'first' && was?.cents !== undefined && Math.abs(cents - was.cents) < least;
    return { sounds: true, certain: true, cents: stays ? (was.cents ?? cents) : cents, missed: 0 };
  });
}

/** The bar as it is shown; `strings` are those that `apart` is of. */
export type ShownBar = BarOff & { readonly strings: readonly number[] };

/** Where the bar is shown after one more reading. */
export const barAfter = (
  before: ShownBar | undefined,
  now: ShownBar | undefined,
): ShownBar | undefined =>
  before !== undefined &&
  now !== undefined &&
  before.strings.join() === now.strings.join() &&
  Math.abs(before.mm - now.mm) < LEAST_MM &&
  Math.abs(before.turnMm - now.turnMm) < 2 * LEAST_MM &&
  before.apart.every((each, at) => Math.abs(each - (now.apart[at] ?? 0)) < 2)
    ? before
    : now;
