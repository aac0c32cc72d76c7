/**
 * Tells the other tabs, and the other parts of this page, that a document has changed. Tidings carry
 * no contents: who wants to know looks into the database.
 */

export interface Tiding {
  readonly id: string;
  /** The revision that it has now; 0 where it was deleted for good. */
  readonly revision: number;
}

const isTiding = (data: unknown): data is Tiding =>
  typeof data === 'object' &&
  data !== null &&
  typeof (data as Partial<Tiding>).id === 'string' &&
  typeof (data as Partial<Tiding>).revision === 'number';

export class Tidings {
  readonly #listeners = new Set<(tiding: Tiding) => void>();
  readonly #channel: BroadcastChannel | undefined;

  constructor(name = 'gripwright') {
    // where tabs cannot talk, a write still notices what another tab has written
    if (typeof BroadcastChannel === 'undefined') return;
    this.#channel = new BroadcastChannel(name);
    this.#channel.onmessage = ({ data }) => {
      if (isTiding(data)) this.#hear(data);
    };
  }

  tell(tiding: Tiding): void {
    this.#channel?.postMessage(tiding);
    this.#hear(tiding);
  }

  /** Calls back at every tiding, from this tab too, until what it gives is called. */
  listen(listener: (tiding: Tiding) => void): () => void {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  }

  #hear(tiding: Tiding): void {
    for (const listener of this.#listeners) listener(tiding);
  }

  close(): void {
    this.#listeners.clear();
    this.#channel?.close();
  }
}
