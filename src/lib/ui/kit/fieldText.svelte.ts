/**
 * What stands in a field of something that is kept. What can be read of it is an edit with the first
 * letter, after a short pause in typing, and when the page is left; what is finished and cannot be read says why, and leaves what is
 * kept as it was. To be made while its component is set up.
 */
import { beforeNavigate } from '$app/navigation';
import { onMount } from 'svelte';
import { on } from 'svelte/events';

const PAUSE_MS = 400;

/** How a text goes on with what was typed in the same field before. */
export interface Typing {
  /** It is one step with that, unless there was a long pause. */
  readonly joins: boolean;
  /** Milliseconds without a letter before it, where letters were typed. */
  readonly paused?: number;
}

/** Gives a sentence where the text cannot be. */
export type Enter = (text: string, options: Typing) => string | undefined;

export class FieldText {
  readonly #value: () => string;
  readonly #enter: Enter;
  /** What was kept before, and whether something of what is typed has come into it. */
  #visit: { readonly was: string; kept: boolean } | undefined;
  #timer: ReturnType<typeof setTimeout> | undefined;
  /** When something of it was an edit last, in milliseconds. */
  #entered = 0;
  /** Milliseconds from then to the next letter. */
  #paused: number | undefined;

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
    const paused = this.#paused === undefined ? {} : { paused: this.#paused };
    const refused = this.#enter(text, { joins: this.#visit.kept, ...paused });
    if (refused === undefined) this.#visit.kept = true;
    // what the edit itself took is no pause in typing
    this.#entered = Date.now();
    this.#paused = undefined;
    return refused;
  }

  typed(text: string): void {
    const begins = this.#visit === undefined;
    this.#visit ??= { was: this.#value(), kept: false };
    this.draft = text;
    // however long one types on: only a time without letters is a pause
    if (!begins) this.#paused ??= Date.now() - this.#entered;
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
