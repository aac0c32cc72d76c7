/** What is wished of single chords, as the page changes it: plain values, never changed in place. */
import type { ArrangedStep } from '$lib/arrange/arrange';
import type { Step } from '$lib/arrange/progression';
import { readWishes } from '$lib/answers/readWishes';
import type { StepWishes, Wishes } from '$lib/arrange/wishes';
import type { Setup } from '$lib/setup/setup';

/** What stays of a chord while the rest is looked for anew. */
export const LOCKS = ['free', 'hold', 'fret', 'top'] as const;
export type Lock = (typeof LOCKS)[number];

export type Locks = ReadonlyMap<number, StepWishes>;

const NONE: Locks = new Map();

/** The locks that a text speaks of; none where it cannot be read. */
export function locksOf(setup: Setup | undefined, text: string | undefined): Locks {
  const read = setup && readWishes(setup, { locks: text });
  return read?.ok ? read.value.steps : NONE;
}

export function lockAt(locks: Locks, index: number): Lock {
  const own = locks.get(index);
  if (own?.hold !== undefined) return 'hold';
  if (own?.fret !== undefined) return 'fret';
  return own?.top === undefined ? 'free' : 'top';
}

/** With one chord locked, or freed, as it is played now. */
export function withLock(
  locks: Locks,
  index: number,
  { hold, voicing }: Pick<ArrangedStep, 'hold' | 'voicing'>,
  lock: Lock,
): Locks {
  const others = [...locks].filter(([at]) => at !== index);
  if (lock === 'free') return new Map(others);
  const own: StepWishes = {
    hold: { hold },
    fret: { fret: hold.fret },
    top: { top: { midi: Math.max(...voicing.pitches) } },
  }[lock];
  return new Map([...others, [index, own]]);
}

/** With one chord freed from what stands in its way. */
export const withChange = (locks: Locks, index: number, change: StepWishes): Locks =>
  new Map(locks).set(index, change);

const saysTheSame = (a: Step | undefined, b: Step | undefined): boolean => {
  const symbol = (step: Step | undefined): string | undefined =>
    step?.chord === 'no chord' ? 'N.C.' : step?.chord.symbol;
  return a !== undefined && b !== undefined && symbol(a) === symbol(b);
};

/**
 * Where a chord stands after the text was changed: as many chords from the front as say what they
 * said stay where they are, as many from the back move along; `undefined` for one in between.
 */
export function indexesAfter(
  before: readonly Step[],
  after: readonly Step[],
): (index: number) => number | undefined {
  const shorter = Math.min(before.length, after.length);
  let front = 0;
  while (front < shorter && saysTheSame(before[front], after[front])) front++;
  let back = 0;
  while (back < shorter - front && saysTheSame(before.at(-1 - back), after.at(-1 - back))) back++;
  return (index) =>
    index < front
      ? index
      : index >= before.length - back
        ? index + after.length - before.length
        : undefined;
}

/** What was said of single chords, where they stand now. */
export const moved = <T>(
  said: Iterable<readonly [number, T]>,
  indexOf: (index: number) => number | undefined,
): [number, T][] =>
  [...said].flatMap(([index, each]): [number, T][] => {
    const now = indexOf(index);
    return now === undefined ? [] : [[now, each]];
  });

export const movedLocks = (locks: Locks, indexOf: ReturnType<typeof indexesAfter>): Locks =>
  new Map(moved(locks, indexOf));

/** The wishes with voicings that are not to be offered again. */
export function withoutThose(
  wishes: Wishes,
  turnedDown: Iterable<readonly [number, readonly string[]]>,
): Wishes {
  const steps = new Map(wishes.steps);
  for (const [index, except] of turnedDown) {
    const before = steps.get(index);
    steps.set(index, { ...before, except: [...(before?.except ?? []), ...except] });
  }
  return { ...wishes, steps };
}
