/** Where documents lie: in the browser's database. */
import type { Damaged } from './recovered';
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
  /** All documents of a kind that can be read, deleted ones too. */
  heads(kind: string): Promise<Head[]>;
  /** Those of any kind of which nothing can be read, or whose line in the list is lost. */
  damaged(): Promise<Damaged[]>;
  /** A document with its newest steps, the head with its near past, and the steps of its versions. */
  load(id: string): Promise<StoredDocument | undefined>;
  /** All documents that can be read, of every kind, each with its whole history. */
  everything(): Promise<StoredDocument[]>;
  /** A step and those it was made on, back towards the first; where one is lost, the one before it. */
  past(id: string, step: number, most: number): Promise<Step[]>;
  /**
   * `revision` is the one the writer knows; 0 for a document that is not there yet. All of a change is
   * written, or nothing of it.
   */
  write(revision: number, change: Change): Promise<Written>;
  /** Deletes the letters that nothing leads to, which earlier programs left behind. */
  clean(id: string): Promise<void>;
  /** Deletes for good. */
  remove(id: string): Promise<void>;
}

/** A document that moves to another disk goes on counting. */
export const nextRevision = (revision: number, { entry }: Change): number =>
  Math.max(revision, entry.revision) + 1;
