/**
 * Keeps the address in step with the state without flooding the history: a finished question is an
 * entry of its own, the letters typed on the way to it are not, and the many small moves of the bar
 * are written once they rest (browsers refuse pages that write too often).
 */
import type { Entry } from './explore.svelte';

const REST_MS = 250;

export class AddressBar {
  readonly #go: (text: string, replace: boolean) => Promise<void>;
  #waiting: ReturnType<typeof setTimeout> | undefined;
  /** Writes an entry of its own that still waits. */
  #open: (() => void) | undefined;
  #typing = false;

  constructor(go: (text: string, replace: boolean) => Promise<void>) {
    this.#go = go;
  }

  show(text: string, entry: Entry): void {
    clearTimeout(this.#waiting);
    this.#open?.();
    if (entry === 'same') {
      this.#waiting = setTimeout(() => void this.#go(text, true), REST_MS);
      return;
    }
    this.#open = () => {
      this.#open = undefined;
      void this.#go(text, false);
    };
    // after what is drawn now: a step of the history asks for the layout of all of it
    this.#waiting = setTimeout(() => this.#open?.(), 0);
  }

  /** The first letter of a new question opens an entry; those after it go into the same one. */
  entryWhileTyping(): Entry {
    const entry = this.#typing ? 'same' : 'new';
    this.#typing = true;
    return entry;
  }

  settle(): void {
    this.#typing = false;
  }

  /** The player goes to another entry: what was still to be written belongs to the one that is left. */
  leave(): void {
    clearTimeout(this.#waiting);
    this.#open = undefined;
    this.#typing = false;
  }
}
