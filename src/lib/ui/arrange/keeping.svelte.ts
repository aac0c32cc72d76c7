/** Progressions that are saved on this device, and the one that is worked on. */
import { progressionKind, type StoredProgression } from '$lib/storage/progressionKind';
import { refuse } from '$lib/result';
import { Documents } from '$lib/ui/shelf/documents.svelte';
import { keeperHere } from '$lib/ui/shelf/keeperHere';
import type { OpenDocument } from '$lib/ui/shelf/openDocument.svelte';
import type { Entry } from '$lib/ui/kit/addressBar';

let shelf: Documents<StoredProgression> | undefined;

/** The one list of the whole visit; called in the browser only. */
export function savedProgressions(): Documents<StoredProgression> {
  shelf ??= new Documents(progressionKind);
  shelf.start();
  return shelf;
}

export class ProgressionKeeping {
  document = $state.raw<OpenDocument<StoredProgression> | undefined>();
  /** Why something is not saved or not there, as a sentence. */
  problem = $state<string | undefined>();
  #opening = 0;

  /** Why the last edit is not saved. */
  #refused = $state<string | undefined>();

  readonly trouble = $derived(this.problem ?? this.#refused ?? this.document?.problem);

  /** What is on the page is saved, or will be in a moment: edits go there. */
  get takesEdits(): boolean {
    return this.document !== undefined;
  }

  /**
   * What is saved under an id; `undefined` where there is nothing, or another one was asked for meanwhile:
   * of several, the last is opened.
   */
  async open(id: string | undefined): Promise<StoredProgression | undefined> {
    const number = ++this.#opening;
    this.problem = undefined;
    this.#refused = undefined;
    this.document = undefined;
    if (id === undefined) return undefined;
    const all = savedProgressions();
    await all.whenReady;
    const opened = await all.open(id);
    if (number !== this.#opening) return undefined;
    if (opened.ok) this.document = opened.value;
    else this.problem = opened.error;
    return this.document?.value;
  }

  /**
   * Begins to keep what is on the page; from now on every edit is saved. Gives the id, as soon as the device
   * has taken it, or cannot. Asked again before that, it is saved once all the same.
   *
   * @param now what is on the page, asked for in the moment in which it is begun
   */
  async keep(now: () => StoredProgression): Promise<string | undefined> {
    const number = this.#opening;
    const trouble = keeperHere() === undefined ? await savedProgressions().prepare() : undefined;
    if (this.document === undefined) {
      // something else was opened before it could begin
      if (number !== this.#opening) return undefined;
      const begun =
        trouble === undefined ? savedProgressions().begin(now(), 'begun') : refuse(trouble);
      this.#opening += 1;
      this.problem = begun.ok ? undefined : begun.error;
      if (begun.ok) this.document = begun.value;
    }
    const { document } = this;
    await document?.settled();
    return document?.id;
  }

  /** An edit of what is saved; letters that are typed in one go are one step. */
  put(next: StoredProgression, entry: Entry): void {
    const faults = this.document?.edit(next, 'edited', { joins: entry === 'same' }) ?? [];
    this.#refused =
      faults.length === 0
        ? undefined
        : 'This is too long to be kept on the device; save it as a file.';
  }

  /** Whether what is saved says something else, since another tab or Undo changed it. */
  differsFrom(now: StoredProgression): boolean {
    const saved = this.document?.value;
    // an edit that was made here is the very same
    if (saved === undefined || saved === now) return false;
    return progressionKind.write(saved) !== progressionKind.write(now);
  }
}
