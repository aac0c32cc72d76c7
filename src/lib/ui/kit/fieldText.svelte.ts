/**
 * What stands in a field of something that is kept. What can be read of it is an edit with the first
 * letter, after a short pause in typing, and when the page is left; what is finished and cannot be read says why, and leaves what is
 * kept as it was. To be made while its component is set up.
 */
import { beforeNavigate } from '$app/navigation';
import { onMount } from 'svelte';
import { on } from 'svelte/events';

const PAUSE_MS = 400;

/**
 * Gives a sentence where the text cannot be. `joins`: it goes on with what was typed there before, and is
 * one step with it.
 */
export type Enter = (text: string, options: { readonly joins: boolean }) => string | undefined;

export class FieldText {
  readonly #value: () => string;
  readonly #enter: Enter;
  /** What was kept before, and whether something of what is typed has come into it. */
  #visit: { readonly was: string; kept: boolean } | undefined;
  #timer: ReturnType<typeof setTimeout> | undefined;

  /** Why what is finished cannot be; a sentence. */
  why = $state<string | undefined>();
  /** What stands in the field while it is typed, or cannot be read. */
  draft = $state<string | undefined>();

  constructor(value: () => string, enter: Enter) {
    this.#value = value;
    this.#enter = enter;
    const keepNow = (): void => this.#keepNow();
    beforeNavigate(keepNow);
    onMount(() => {
      // before the store looks what is still to be kept
      const first = { capture: true };
      const hidden = (): void => {
        if (document.visibilityState === 'hidden') keepNow();
      };
      const ends = [
        on(window, 'pagehide', keepNow, first),
        on(document, 'visibilitychange', hidden, first),
      ];
      return () => {
        for (const end of ends) end();
        keepNow();
      };
    });
  }

  get text(): string {
    return this.draft ?? this.#value();
  }

  /** Makes what is typed an edit, if it can be read. */
  #put(text: string): string | undefined {
    clearTimeout(this.#timer);
    this.#timer = undefined;
    this.#visit ??= { was: this.#value(), kept: false };
    if (text === this.#value()) return undefined;
    const refused = this.#enter(text, { joins: this.#visit.kept });
    if (refused === undefined) this.#visit.kept = true;
    return refused;
  }

  typed(text: string): void {
    const begins = this.#visit === undefined;
    this.#visit ??= { was: this.#value(), kept: false };
    this.draft = text;
    clearTimeout(this.#timer);
    // the first letter counts at once: the copy that it may need is then there before the page can go
    if (begins) this.#put(text);
    else this.#timer = setTimeout(() => this.#put(text), PAUSE_MS);
  }

  /** The page may not come back. */
  #keepNow(): void {
    if (this.#timer !== undefined && this.draft !== undefined) this.#put(this.draft);
  }

  finish(text: string): void {
    this.why = this.#put(text);
    this.draft = this.why === undefined ? undefined : text;
    if (this.why !== undefined && this.#visit?.kept === true)
      this.#enter(this.#visit.was, { joins: true });
    this.#visit = undefined;
  }
}
