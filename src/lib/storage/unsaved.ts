/**
 * What is done and not on the device yet. It is tried again by itself, after a second, then two, four, up
 * to a minute, and as soon as the player comes back to the tab; and what is still missing when the page
 * is left is laid down where a page can write at once (`left.ts`).
 */
import { LeftByPage, type Left } from './left';

/** Something with edits that the device has not taken. */
export interface Held {
  tryAgain(): Promise<void>;
  /** What is missing on the device; `undefined` for nothing. */
  left(): Left | undefined;
}

const FIRST_MS = 1000;
const LONGEST_MS = 60_000;

/** The page may be in a browser, or in a test without one. */
const on = (where: 'window' | 'document', types: readonly string[], run: () => void): void => {
  const target = where === 'window' ? globalThis.window : globalThis.document;

  for (const type of types) target?.addEventListener(type, run);
};

export class Unsaved {
  readonly #held = new Set<Held>();
  readonly #failed = new Set<Held>();
  readonly #left = new LeftByPage();
  #waitMs = FIRST_MS;
  #timer: ReturnType<typeof setTimeout> | undefined;

  constructor() {
    on('window', ['focus', 'online'], () => void this.#again());
    on('window', ['pagehide'], () => this.#leave());
    on('window', ['pageshow'], () => this.#left.forget());
    on('document', ['visibilitychange'], () => {
      if (document.visibilityState === 'hidden') this.#leave();
      else {
        this.#left.forget();
        void this.#again();
      }
    });
  }

  /** An edit is on its way to the device. */
  begin(held: Held): void {
    this.#held.add(held);
  }

  /** The device has not taken it. */
  failed(held: Held): void {
    this.#held.add(held);
    this.#failed.add(held);
    this.#timer ??= setTimeout(() => void this.#again(), this.#waitMs);
  }

  done(held: Held): void {
    this.#held.delete(held);
    this.#failed.delete(held);
    if (this.#failed.size === 0) this.#waitMs = FIRST_MS;
  }

  async #again(): Promise<void> {
    clearTimeout(this.#timer);
    this.#timer = undefined;
    if (this.#failed.size === 0) return;
    this.#waitMs = Math.min(LONGEST_MS, 2 * this.#waitMs);
    for (const held of [...this.#failed]) await held.tryAgain();
  }

  #leave(): void {
    this.#left.lay([...this.#held].flatMap((held) => held.left() ?? []));
  }
}
