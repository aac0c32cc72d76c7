/** What is wished of single chords, as the page changes it: plain values, never changed in place. */
import type { ArrangedStep } from '$lib/arrange/arrange';
import { readWishes } from '$lib/arrange/readWishes';
import type { StepWishes, Wishes } from '$lib/arrange/wishes';
import type { Setup } from '$lib/setup/setup';

/** What is kept of a chord while the rest is looked for anew. */
export const LOCKS = ['free', 'hold', 'fret', 'top'] as const;
export type Lock = (typeof LOCKS)[number];

export type Locks = ReadonlyMap<number, StepWishes>;

const NONE: Locks = new Map();

/** The locks that a text speaks of; none where it cannot be read. */
export function locksOf(setup: Setup | undefined, text: string | undefined): Locks {
  const read = setup && readWishes(setup, { locks: text });
  return read?.ok ? read.value.steps : NONE;
}

export function lockAt(locks: Locks, place: number): Lock {
  const own = locks.get(place);
  if (own?.hold !== undefined) return 'hold';
  if (own?.fret !== undefined) return 'fret';
  return own?.top === undefined ? 'free' : 'top';
}

/** With one chord locked, or freed, as it is played now. */
export function withLock(locks: Locks, { place, hold, voicing }: ArrangedStep, lock: Lock): Locks {
  const others = [...locks].filter(([at]) => at !== place);
  if (lock === 'free') return new Map(others);
  const own: StepWishes = {
    hold: { hold },
    fret: { fret: hold.fret },
    top: { top: { midi: Math.max(...voicing.pitches) } },
  }[lock];
  return new Map([...others, [place, own]]);
}

/** The wishes with voicings that are not to be offered again. */
export function withoutThose(
  wishes: Wishes,
  turnedDown: Iterable<readonly [number, readonly string[]]>,
): Wishes {
  const steps = new Map(wishes.steps);
  for (const [place, except] of turnedDown) steps.set(place, { ...steps.get(place), except });
  return { ...wishes, steps };
}
