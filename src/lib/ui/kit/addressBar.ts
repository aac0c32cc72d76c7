/**
 * Keeps the address in step with the state without flooding the history: a finished question is an
 * entry of its own, the letters typed on the way to it are not, and the many small moves of the bar
 * are written once they rest (browsers refuse pages that write too often).
 */
import { afterPaint } from '$lib/ui/parts/afterPaint';

/** How an address takes its place: a new entry of the history, or instead of the present one. */
export type Entry = 'new' | 'same';

const REST_MS = 250;

export class AddressBar {
  readonly #go: (text: string, replace: boolean) => Promise<void>;
  /** Calls off what waits to be written. */
  #callOff: () => void = () => undefined;
  /** Writes an entry of its own that still waits. */
  #open: (() => void) | undefined;
  #typing = false;

  constructor(go: (text: string, replace: boolean) => Promise<void>) {
    this.#go = go;
  }

  show(text: string, entry: Entry): void {
    this.#callOff();
    this.#open?.();
    if (entry === 'same') {
      const rest = setTimeout(() => void this.#go(text, true), REST_MS);
      this.#callOff = () => clearTimeout(rest);
      return;
    }
    this.#open = () => {
      this.#open = undefined;
      void this.#go(text, false);
    };
    // a step of the history asks for the layout of all that is drawn now, which is done by then
    this.#callOff = afterPaint(() => this.#open?.());
  }

  /** Takes the place of the present entry at once: a reload in the same moment finds what it names. */
  now(text: string): void {
    this.#callOff();
    this.#open?.();
    void this.#go(text, true);
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
    this.#callOff();
    this.#open = undefined;
    this.#typing = false;
  }
}
