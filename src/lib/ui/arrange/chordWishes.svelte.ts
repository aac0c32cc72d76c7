/**
 * What a player wishes of single chords: locks, and voicings that are turned down. They are kept by chord as it is
 * written, for the passes of a repeat are played alike; a chord of any pass may be named by its number.
 */
import { SvelteMap } from 'svelte/reactivity';
import type { ArrangedStep } from '$lib/arrange/arrange';
import { passesOf, wishedOfWritten } from '$lib/arrange/passes';
import { voicingKey } from '$lib/arrange/voicingKey';
import type { ReadProgression } from '$lib/arrange/progression';
import type { StepWishes, Wishes } from '$lib/arrange/wishes';
import { stepWishesText } from '$lib/answers/stepWishes';
import type { WishTexts } from '$lib/answers/wishParts';
import { gripOf } from '$lib/search/grip';
import type { Setup } from '$lib/setup/setup';
import {
  lockAt,
  locksOf,
  moved,
  movedLocks,
  withChange,
  withLock,
  withoutThose,
  type Lock,
  type Locks,
  type indexesAfter,
} from './locks';

/** What the locks are read from. */
export interface Speaking {
  readonly read: Pick<ReadProgression, 'progression' | 'piece'>;
  readonly texts: WishTexts;
  /** The wishes as they were read last, with the texts that say them. */
  readonly wished: { readonly texts: WishTexts; readonly wishes: Wishes } | undefined;
  readonly setup: Setup | undefined;
}

export class ChordWishes {
  readonly #now: () => Speaking;
  /** By chord: voicings that were turned down; they hold until the text changes. */
  readonly #turnedDown = new SvelteMap<number, readonly string[]>();

  /** By chord: the first that is the same as written; none where passes are free. */
  readonly #passes: readonly number[] = $derived.by(() => {
    const { read, texts } = this.#now();
    return texts.passes === 'free' ? [] : (passesOf(read.progression, read.piece) ?? []);
  });

  /** By chord as written. */
  readonly locks: Locks = $derived.by(() => {
    const { texts, wished, setup } = this.#now();
    const steps =
      wished !== undefined && wished.texts.locks === texts.locks
        ? wished.wishes.steps
        : locksOf(setup, texts.locks);
    return wishedOfWritten(steps, this.#passes);
  });

  constructor(now: () => Speaking) {
    this.#now = now;
  }

  #written(index: number): number {
    return this.#passes[index] ?? index;
  }

  get isEmpty(): boolean {
    return this.locks.size === 0 && this.#turnedDown.size === 0;
  }

  lockOf(index: number): Lock {
    return lockAt(this.locks, this.#written(index));
  }

  /** How many voicings of a chord are turned down. */
  turnedDown(index: number): number {
    return this.#turnedDown.get(this.#written(index))?.length ?? 0;
  }

  /** The locks as a text, with a chord locked as it is played now, or freed, from being turned down too. */
  locked(step: ArrangedStep, lock: Lock): string {
    const index = this.#written(step.index);
    if (lock === 'free') this.#turnedDown.delete(index);
    return stepWishesText(withLock(this.locks, index, step, lock));
  }

  /** Turns down how a chord is played now; the locks as a text that leave it free to be played otherwise. */
  turnDown(step: ArrangedStep): string {
    const index = this.#written(step.index);
    const key = voicingKey(step.hold, gripOf(step.hold.strings));
    this.#turnedDown.set(index, [...(this.#turnedDown.get(index) ?? []), key]);
    const isHeld = lockAt(this.locks, index) === 'hold';
    return stepWishesText(isHeld ? withLock(this.locks, index, step, 'free') : this.locks);
  }

  /** The locks as a text, with a chord freed from what stands in its way. */
  changed(index: number, change: StepWishes): string {
    return stepWishesText(withChange(this.locks, this.#written(index), change));
  }

  /** The wishes without the voicings that are turned down. */
  without(wishes: Wishes): Wishes {
    return withoutThose(wishes, this.#turnedDown);
  }

  /** Chords stand elsewhere now: the locks that there were, as a text; nothing where there were none. */
  move(locks: Locks, indexOf: ReturnType<typeof indexesAfter>): string | undefined {
    const now = moved(this.#turnedDown, indexOf);
    this.#turnedDown.clear();
    for (const [index, keys] of now) this.#turnedDown.set(index, keys);
    return locks.size === 0 ? undefined : stepWishesText(movedLocks(locks, indexOf));
  }

  /** Turns nothing down any more. */
  clear(): void {
    this.#turnedDown.clear();
  }
}
