/** Progressions that are kept on this device, and the one that is worked on. */
import { progressionKind, type StoredProgression } from '$lib/storage/progressionKind';
import { Documents } from '$lib/ui/shelf/documents.svelte';
import type { OpenDocument } from '$lib/ui/shelf/openDocument.svelte';
import type { Entry } from '$lib/ui/explore/explore.svelte';

let shelf: Documents<StoredProgression> | undefined;

/** The one list of the whole visit; called in the browser only. */
export function keptProgressions(): Documents<StoredProgression> {
  shelf ??= new Documents(progressionKind);
  shelf.start();
  return shelf;
}

export class ProgressionKeeping {
  document = $state.raw<OpenDocument<StoredProgression> | undefined>();
  /** Why something is not kept or not there, as a sentence. */
  problem = $state<string | undefined>();

  /** Why the last edit is not kept. */
  #refused = $state<string | undefined>();

  readonly trouble = $derived(this.problem ?? this.#refused ?? this.document?.problem);

  /** What is kept under an id; `undefined` where there is nothing. */
  async open(id: string | undefined): Promise<StoredProgression | undefined> {
    this.problem = undefined;
    this.#refused = undefined;
    this.document = undefined;
    if (id === undefined) return undefined;
    const all = keptProgressions();
    await all.whenReady;
    const opened = await all.open(id);
    if (opened.ok) this.document = opened.value;
    else this.problem = opened.error;
    return this.document?.value;
  }

  /** Begins to keep what is on the page; from now on every edit is kept. */
  async keep(now: StoredProgression): Promise<string> {
    const created = await keptProgressions().create(now, 'begun');
    this.problem = created.problem;
    const opened = await keptProgressions().open(created.id);
    if (opened.ok) this.document = opened.value;
    return created.id;
  }

  /** An edit of what is kept; letters that are typed in one go are one step. */
  put(next: StoredProgression, entry: Entry): void {
    const faults = this.document?.edit(next, 'edited', { joins: entry === 'same' }) ?? [];
    this.#refused =
      faults.length === 0
        ? undefined
        : 'This is too long to be kept on the device; save it as a file.';
  }

  /** Whether what is kept says something else, since another tab or Undo changed it. */
  differsFrom(now: StoredProgression): boolean {
    const kept = this.document?.value;
    return kept !== undefined && progressionKind.write(kept) !== progressionKind.write(now);
  }
}
