/** Where documents lie: in the browser's database, or in memory where that is not to be had. */
import type { Change, Entry, StoredDocument, Step } from './storedDocument';

/** A write is taken only if the document is still at the revision that the writer knows. */
export type Written =
  | { readonly done: true; readonly revision: number }
  | { readonly done: false; readonly now: StoredDocument | undefined };

/** The entry of a document with the step that is shown. */
export interface Head {
  readonly entry: Entry;
  readonly step: Step;
}

export interface Disk {
  /** What is kept outlives the visit. */
  readonly lasting: boolean;
  /** All documents of a kind, deleted ones too. */
  heads(kind: string): Promise<Head[]>;
  load(id: string): Promise<StoredDocument | undefined>;
  /** `revision` is the one the writer knows; 0 for a document that is not there yet. */
  write(revision: number, change: Change): Promise<Written>;
  /** Deletes for good. */
  remove(id: string): Promise<void>;
}

/** A document that moves to another disk goes on counting. */
export const nextRevision = (revision: number, { entry }: Change): number =>
  Math.max(revision, entry.revision) + 1;

/** Documents for this visit only. */
export class MemoryDisk implements Disk {
  readonly lasting = false;
  readonly #stored = new Map<string, StoredDocument>();

  has(id: string): boolean {
    return this.#stored.has(id);
  }

  get all(): StoredDocument[] {
    return [...this.#stored.values()];
  }

  heads(kind: string): Promise<Head[]> {
    const heads = this.all
      .filter(({ entry }) => entry.kind === kind)
      .flatMap(({ entry, steps }) => {
        const step = steps[entry.head - 1];
        return step === undefined ? [] : [{ entry, step }];
      });
    return Promise.resolve(heads);
  }

  load(id: string): Promise<StoredDocument | undefined> {
    return Promise.resolve(this.#stored.get(id));
  }

  write(revision: number, change: Change): Promise<Written> {
    const now = this.#stored.get(change.entry.id);
    if ((now?.entry.revision ?? 0) !== revision) return Promise.resolve({ done: false, now });
    const next = nextRevision(revision, change);
    this.#stored.set(change.entry.id, {
      entry: { ...change.entry, revision: next },
      steps: [...(now?.steps ?? []), ...change.steps],
      versions: [...(now?.versions ?? []), ...change.versions],
    });
    return Promise.resolve({ done: true, revision: next });
  }

  remove(id: string): Promise<void> {
    this.#stored.delete(id);
    return Promise.resolve();
  }
}
