/** Progressions that are saved on this device, and the one that is worked on. */
import { progressionKind, type StoredProgression } from '$lib/storage/progressionKind';
import { Documents } from '$lib/ui/shelf/documents.svelte';
import type { OpenDocument } from '$lib/ui/shelf/openDocument.svelte';
import type { Entry } from '$lib/ui/explore/explore.svelte';

let shelf: Documents<StoredProgression> | undefined;

/** The one list of the whole visit; called in the browser only. */
export function savedProgressions(): Documents<StoredProgression> {
  shelf ??= new Documents(progressionKind);
  shelf.start();
  return shelf;
}

/** A piece that the device is about to take. */
interface OnItsWay {
  readonly id: Promise<string>;
  /** What has become of it meanwhile. */
  since?: StoredProgression;
}

export class ProgressionKeeping {
  document = $state.raw<OpenDocument<StoredProgression> | undefined>();
  /** Why something is not saved or not there, as a sentence. */
  problem = $state<string | undefined>();
  #opening = 0;
  #onItsWay: OnItsWay | undefined;

  /** Why the last edit is not saved. */
  #refused = $state<string | undefined>();

  readonly trouble = $derived(this.problem ?? this.#refused ?? this.document?.problem);

  /** What is on the page is saved, or will be in a moment: edits go there. */
  get takesEdits(): boolean {
    return this.document !== undefined || this.#onItsWay !== undefined;
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
    this.#onItsWay = undefined;
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
   * Begins to keep what is on the page; from now on every edit is saved. Gives the id. Asked again before
   * the device has taken it, it is saved once all the same.
   */
  keep(now: StoredProgression): Promise<string> {
    const before = this.#onItsWay;
    if (before !== undefined) return before.id;
    const onItsWay: OnItsWay = { id: this.#keep(now, () => onItsWay.since) };
    this.#onItsWay = onItsWay;
    return onItsWay.id;
  }

  async #keep(now: StoredProgression, since: () => StoredProgression | undefined): Promise<string> {
    const number = ++this.#opening;
    const created = await savedProgressions().create(now, 'begun');
    const opened = await savedProgressions().open(created.id);
    const next = since();
    if (opened.ok && next !== undefined) opened.value.edit(next, 'edited');
    // something else was opened meanwhile
    if (number !== this.#opening) return created.id;
    this.#onItsWay = undefined;
    this.problem = opened.ok ? created.problem : opened.error;
    if (opened.ok) this.document = opened.value;
    return created.id;
  }

  /** An edit of what is saved; letters that are typed in one go are one step. */
  put(next: StoredProgression, entry: Entry): void {
    if (this.#onItsWay !== undefined) this.#onItsWay.since = next;
    const faults = this.document?.edit(next, 'edited', { joins: entry === 'same' }) ?? [];
    this.#refused =
      faults.length === 0
        ? undefined
        : 'This is too long to be kept on the device; save it as a file.';
  }

  /** Whether what is saved says something else, since another tab or Undo changed it. */
  differsFrom(now: StoredProgression): boolean {
    const saved = this.document?.value;
    return saved !== undefined && progressionKind.write(saved) !== progressionKind.write(now);
  }
}
