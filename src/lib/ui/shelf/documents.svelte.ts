/**
 * The documents of one kind that are saved on this device, as a list that follows every change, from
 * other tabs too. `start()` is called once, in the browser; until `ready` nothing is known.
 *
 *     const progressions = new Documents(progressionKind);   // see storage/kind.ts
 *     onMount(() => progressions.start());
 *     progressions.stored                     // newest first
 *     const { id } = await progressions.create(value, 'written anew');
 *     const opened = await progressions.open(id);            // see openDocument.svelte.ts
 */
import { SvelteMap } from 'svelte/reactivity';
import { ok, refuse, type Result } from '$lib/result';
import { faultText, type DocumentFault } from '$lib/faults';
import type { Kind } from '$lib/storage/kind';
import { DocumentSession } from '$lib/storage/documentSession';
import type { Created, Listed, Store } from '$lib/storage/store';
import { deviceStore, newId } from './deviceStore';
import { OpenDocument } from './openDocument.svelte';

export interface ListedDocument<T> {
  readonly id: string;
  readonly name: string;
  readonly revision: number;
  /** Milliseconds since 1970. */
  readonly changed: number;
  readonly deleted: boolean;
  /** It is on the device, and not only in this tab. */
  readonly lasting: boolean;
  /** As it is saved, whether it can be read or not. */
  readonly text: string;
  readonly value: Result<T, readonly DocumentFault[]>;
}

export class Documents<T> {
  readonly kind: Kind<T>;
  readonly #opened = new SvelteMap<string, OpenDocument<T>>();
  #store: Store | undefined;
  readonly #all = new SvelteMap<string, ListedDocument<T>>();
  #looking: Promise<void> | undefined;
  #lookAgain = false;
  #known: () => void = () => undefined;

  /** What is saved is known, or is known to be out of reach. */
  ready = $state(false);
  readonly whenReady = new Promise<void>((known) => (this.#known = known));
  /** Why what is saved cannot be reached, or something is not saved: a sentence. */
  problem = $state<string | undefined>();

  readonly #newestFirst = $derived(
    [...this.#all.values()].sort((a, b) => b.changed - a.changed || (a.id < b.id ? -1 : 1)),
  );
  readonly stored = $derived(this.#newestFirst.filter(({ deleted }) => !deleted));
  /** What was deleted and can be put back. */
  readonly deleted = $derived(this.#newestFirst.filter(({ deleted }) => deleted));

  constructor(kind: Kind<T>) {
    this.kind = kind;
  }

  start(store: Store = deviceStore()): void {
    if (this.#store !== undefined) return;
    this.#store = store;
    store.messages.listen(() => void this.#look());
    // a tab that slept may have missed what others told
    document.addEventListener('visibilitychange', () => {
      if (document.visibilityState === 'visible') void this.#look();
    });
    void this.#look();
  }

  /** A page may ask before the layout has started it. */
  get #started(): Store {
    if (this.#store === undefined) this.start();
    return this.#store ?? deviceStore();
  }

  /** What a saved document says now; `undefined` where there is none that can be read. */
  get(id: string): T | undefined {
    const open = this.#opened.get(id);
    if (open !== undefined) return open.value;
    const value = this.#all.get(id)?.value;
    return value?.ok === true ? value.value : undefined;
  }

  /** Everything that the list says of a document. */
  about(id: string): ListedDocument<T> | undefined {
    return this.#all.get(id);
  }

  async create(value: T, label: string): Promise<Created> {
    const created = await this.#started.create(newId(), this.kind.kind, {
      name: this.kind.nameOf(value),
      text: this.kind.write(value),
      label,
    });
    this.problem = created.problem;
    await this.#look();
    return created;
  }

  /** The open document; always the same object for the same id. */
  async open(id: string): Promise<Result<OpenDocument<T>, string>> {
    const open = this.#opened.get(id);
    if (open !== undefined) return ok(open);
    const loaded = await this.#started.load(id);
    if (!loaded.ok) return loaded;
    if (loaded.value === undefined) return refuse(this.unknown(id));
    const { entry } = loaded.value;
    if (entry.kind !== this.kind.kind) return refuse(this.unknown(id));
    const session = DocumentSession.of(this.#started, this.kind, loaded.value);
    if (!session.ok) return refuse(unreadable(entry.name, session.error));
    // another call may have been quicker
    const document = this.#opened.get(id) ?? new OpenDocument(session.value);
    this.#opened.set(id, document);
    return ok(document);
  }

  async copy(id: string): Promise<Result<Created, string>> {
    const value = this.get(id);
    if (value === undefined) return refuse(this.unknown(id));
    const name = this.kind.nameOf(value);
    const named = this.kind.named(value, `${name}, copy`);
    // a name that has no room for one word more stays as it is
    const fits = this.kind.read(this.kind.write(named)).ok;
    return ok(await this.create(fits ? named : value, `copied from “${name}”`));
  }

  /** Tells why it cannot be called so. */
  async rename(id: string, name: string): Promise<string | undefined> {
    const opened = await this.open(id);
    if (!opened.ok) return opened.error;
    const faults = opened.value.rename(name);
    if (faults.length > 0) return faults.map(faultText).join(' ');
    await opened.value.settled();
    return opened.value.problem;
  }

  /** Off the list, until it is put back. */
  async delete(id: string): Promise<void> {
    this.problem = await this.#started.setDeleted(id, Date.now());
    await this.#look();
  }

  async putBack(id: string): Promise<void> {
    this.problem = await this.#started.setDeleted(id, undefined);
    await this.#look();
  }

  /** With its whole past; nothing brings it back. */
  async removeForGood(id: string): Promise<void> {
    this.problem = await this.#started.remove(id);
    this.#opened.delete(id);
    await this.#look();
  }

  /** Tries again to reach the device and to keep what is only in this tab. */
  async tryAgain(): Promise<void> {
    this.problem = await this.#started.storeAgain();
    for (const open of this.#opened.values()) await open.tryAgain();
    await this.#look();
  }

  /** Why an id leads to nothing. */
  unknown(id: string): string {
    const about = this.#all.get(id);
    if (about !== undefined && !about.value.ok) return unreadable(about.name, about.value.error);
    return `There is no ${this.kind.kind} “${id}” on this device. It may be kept in another browser, or deleted.`;
  }

  /** Reads the list anew; what has not changed stays the same object. */
  #look(): Promise<void> {
    if (this.#looking !== undefined) this.#lookAgain = true;
    this.#looking ??= (async () => {
      do {
        this.#lookAgain = false;
        const { listed, problem } = await this.#started.list(this.kind.kind);
        this.#take(listed, problem === undefined);
        if (problem !== undefined || !this.ready) this.problem = problem;
      } while (this.#lookAgain);
      this.#looking = undefined;
      this.ready = true;
      this.#known();
    })();
    return this.#looking;
  }

  /** What is not listed is gone; unless the device did not answer, then it is as it was. */
  #take(listed: readonly Listed[], all: boolean): void {
    const ids = listed.map(({ entry }) => entry.id);
    for (const id of this.#all.keys()) if (all && !ids.includes(id)) this.#all.delete(id);
    for (const { entry, step, lasting } of listed) {
      const { id, name, changed, deleted, revision } = entry;
      const old = this.#all.get(id);
      if (old?.revision === revision && old.lasting === lasting) continue;
      this.#all.set(id, {
        id,
        name,
        revision,
        changed,
        deleted: deleted !== undefined,
        lasting,
        text: step.text,
        value: old?.text === step.text ? old.value : this.kind.read(step.text),
      });
    }
  }
}

const unreadable = (name: string, faults: readonly DocumentFault[]): string =>
  `“${name}” is kept on this device but cannot be read: ${faults.slice(0, 3).map(faultText).join(' ')}`;
