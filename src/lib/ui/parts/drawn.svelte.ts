import { untrack } from 'svelte';
import { afterPaint } from './afterPaint';

/**
 * What a part of the page draws of something that changes together with other parts: the first of it
 * at once, any later one when the other parts have been painted.
 */
export class Drawn<T> {
  readonly #now: () => T;
  #kept = $state.raw<T | undefined>();

  readonly value: T = $derived.by(() => this.#kept ?? this.#now());
  /** A newer one is on its way. */
  readonly late = $derived.by(() => this.value !== this.#now());

  /** To be made while a component is set up. */
  constructor(now: () => T) {
    this.#now = now;
    $effect(() => {
      const next = now();
      if (untrack(() => this.#kept) !== undefined) return afterPaint(() => (this.#kept = next));
      this.#kept = next;
      return undefined;
    });
  }
}
