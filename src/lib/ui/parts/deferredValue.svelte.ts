import { untrack } from 'svelte';
import { afterPaint } from './afterPaint';

/**
 * What a part of the page draws of something that changes together with other parts: the first of it
 * at once, any later one when the other parts have been painted.
 */
export class DeferredValue<T> {
  readonly #now: () => T;
  #drawn = $state.raw<T | undefined>();

  readonly value: T = $derived.by(() => this.#drawn ?? this.#now());
  /** A newer one is on its way. */
  readonly late = $derived.by(() => this.value !== this.#now());

  /** To be made while a component is set up. */
  constructor(now: () => T) {
    this.#now = now;
    $effect(() => {
      const next = now();
      if (untrack(() => this.#drawn) !== undefined) return afterPaint(() => (this.#drawn = next));
      this.#drawn = next;
      return undefined;
    });
  }
}
