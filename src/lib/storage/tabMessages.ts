/**
 * Tells the other tabs, and the other parts of this page, that a document has changed. A message carries
 * no contents: who wants to know looks into the database.
 */

export interface TabMessage {
  readonly id: string;
  /** The revision that it has now; 0 where it was deleted for good. */
  readonly revision: number;
}

const isTabMessage = (data: unknown): data is TabMessage =>
  typeof data === 'object' &&
  data !== null &&
  typeof (data as Partial<TabMessage>).id === 'string' &&
  typeof (data as Partial<TabMessage>).revision === 'number';

export class TabMessages {
  readonly #listeners = new Set<(message: TabMessage) => void>();
  readonly #channel: BroadcastChannel | undefined;

  constructor(name = 'gripwright') {
    // where tabs cannot talk, a write still notices what another tab has written
    if (typeof BroadcastChannel === 'undefined') return;
    this.#channel = new BroadcastChannel(name);
    this.#channel.onmessage = ({ data }) => {
      if (isTabMessage(data)) this.#receive(data);
    };
  }

  send(message: TabMessage): void {
    this.#channel?.postMessage(message);
    this.#receive(message);
  }

  /** Calls back at every message, from this tab too, until what it gives is called. */
  listen(listener: (message: TabMessage) => void): () => void {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  }

  #receive(message: TabMessage): void {
    for (const listener of this.#listeners) listener(message);
  }

  close(): void {
    this.#listeners.clear();
    this.#channel?.close();
  }
}
