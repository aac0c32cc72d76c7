/**
 * Tells the other tabs, and the other parts of this page, that a document has changed, and what was
 * written: who knows the revision before it need not look into the database.
 */
import { isRecord } from '$lib/setup/parsed';
import type { Change, Step } from './storedDocument';

/** What a write has brought. */
export interface News {
  readonly kind: string;
  /** The revision that it was written on. */
  readonly on: number;
  readonly change: Change;
  /** The step that is shown now. */
  readonly step: Step;
}

export interface TabMessage {
  readonly id: string;
  /** The revision that it has now; 0 where it was deleted for good. */
  readonly revision: number;
  /** Without it, one must look. */
  readonly news?: News;
}

/** A tab may be of another version of the program. */
function messageIn(data: unknown): TabMessage | undefined {
  if (!isRecord(data) || typeof data.id !== 'string' || typeof data.revision !== 'number')
    return undefined;
  const { id, revision, news } = data;
  const known =
    isRecord(news) &&
    typeof news.kind === 'string' &&
    isRecord(news.step) &&
    isRecord(news.change) &&
    isRecord(news.change.entry) &&
    ['steps', 'versions', 'joined'].every((part) =>
      Array.isArray((news.change as Record<string, unknown>)[part]),
    );
  return { id, revision, ...(known ? { news: news as unknown as News } : {}) };
}

export class TabMessages {
  readonly #listeners = new Set<(message: TabMessage) => void>();
  readonly #channel: BroadcastChannel | undefined;

  constructor(name = 'gripwright') {
    // where tabs cannot talk, a write still notices what another tab has written
    if (typeof BroadcastChannel === 'undefined') return;
    this.#channel = new BroadcastChannel(name);
    this.#channel.onmessage = ({ data }) => {
      const message = messageIn(data);
      if (message !== undefined) this.#receive(message);
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
