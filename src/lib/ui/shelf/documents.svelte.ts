/**
 * The documents of one kind that are saved on this device, as a list that follows every change, from
 * other tabs too. `start()` is called once, in the browser; until `ready` nothing is known.
 *
 *     const progressions = new Documents(progressionKind);   // see storage/kind.ts
 *     onMount(() => progressions.start());
 *     progressions.stored                     // newest first
 *     const { id } = await progressions.create(value, 'written anew');
 *     const trouble = await progressions.prepare();          // before `begin`: what keeps documents is here
 *     const begun = progressions.begin(value, 'begun');      // takes edits at once
 *     const opened = await progressions.open(id);            // see openDocument.svelte.ts
 *
 * What is open, what lies on the device and what other tabs tell is held together here, so that no list shows a
 * document twice or as it was; how records are read is `deviceList`, how one is edited `openDocument`. That is one
 * thing, and longer than other files for all that can be done to a document of a list.
 */
import { SvelteMap } from 'svelte/reactivity';
import { ok, refuse, type Result } from '$lib/result';
import { faultText, type DocumentFault } from '$lib/faults';
import type { Kind } from '$lib/storage/kind';
import type { Known } from '$lib/storage/known';
import type { Damaged } from '$lib/storage/recovered';
import type { Created, Store } from '$lib/storage/store';
import type { TabMessage } from '$lib/storage/tabMessages';
import { DeviceList, type Reached } from './deviceList.svelte';
import { fetchKeeper, keeperHere, type Keeper } from './keeperHere';
import { listedOf, type ListedDocument, type OnDevice } from './listed';
import { newId } from './newId';
import type { OpenDocument } from './openDocument.svelte';

export type { ListedDocument } from './listed';

export class Documents<T> {
  readonly kind: Kind<T>;
  readonly #opened = new SvelteMap<string, OpenDocument<T>>();
  #store: Store | undefined;
  #started = false;
  readonly #device: DeviceList<T>;
  #looking: Promise<void> | undefined;
  #lookAgain = false;
  #known: () => void = () => undefined;
  /** Why the last thing that was done to a document of the list is not on the device. */
  #refused = $state<string | undefined>();

  /** What is saved is known, or is known to be out of reach. */
  ready = $state(false);
  readonly whenReady = new Promise<void>((known) => (this.#known = known));

  /** Documents that the device has not taken yet. */
  readonly #inTab = $derived([...this.#opened.values()].filter(({ lasting }) => !lasting));
  readonly #newestFirst = $derived(
    [
      ...this.#onDevice().filter(({ id }) => this.#opened.get(id)?.lasting !== false),
      ...this.#inTab.map((open) => listedOf(this.kind, open)),
    ].sort((a, b) => b.changed - a.changed || (a.id < b.id ? -1 : 1)),
  );
  readonly stored: readonly ListedDocument<T>[] = $derived(
    this.#newestFirst.filter(({ deleted }) => !deleted),
  );
  /** What was deleted and can be put back. */
  readonly deleted = $derived(this.#newestFirst.filter(({ deleted }) => deleted));
  /** Those of which another tab changed the same place, until it is answered which is to stand. */
  readonly asking = $derived([...this.#opened.values()].filter(({ asks }) => asks !== undefined));
  /** Why what is saved cannot be reached, or something is not saved: a sentence, until it is. */
  readonly problem: string | undefined = $derived(
    [...this.#opened.values()].find((open) => !open.saved && open.problem !== undefined)?.problem ??
      this.#refused ??
      this.#whyUnreached(),
  );

  constructor(kind: Kind<T>) {
    this.kind = kind;
    this.#device = new DeviceList(
      kind,
      (id) => this.open(id),
      () => this.#inTab,
    );
  }

  /** What lies on the device and cannot be read. */
  get damaged(): readonly Damaged[] {
    return this.#device.damaged;
  }

  /** What was here at the last visit and is not found now. */
  get missing(): readonly Known[] {
    return this.#device.missing;
  }

  #onDevice(): OnDevice<T>[] {
    return [...this.#device.all.values()];
  }

  #whyUnreached(): string | undefined {
    return this.#device.problem;
  }

  start(store?: Store): void {
    if (this.#started) return;
    this.#started = true;
    if (store !== undefined) this.#listen(store);
    // a tab that slept may have missed what others told
    document.addEventListener('visibilitychange', () => {
      if (document.visibilityState === 'visible') void this.#look();
    });
    void this.#look();
  }

  #listen(store: Store): Store {
    this.#store = store;
    store.messages.listen((message) => this.#hear(message));
    return store;
  }

  /** A page may ask before the layout has started it. */
  #with(keeper: Keeper): Reached {
    const store = this.#store ?? this.#listen(keeper.deviceStore());
    this.start();
    return { keeper, store };
  }

  /** What keeps documents, once it is here; or why it cannot be had, as a sentence. */
  async #reached(): Promise<Result<Reached, string>> {
    const here = keeperHere();
    const keeper = here === undefined ? await fetchKeeper() : ok(here);
    return keeper.ok ? ok(this.#with(keeper.value)) : keeper;
  }

  /** Waits until documents can be begun; gives a sentence where they cannot. */
  async prepare(): Promise<string | undefined> {
    const reached = await this.#reached();
    return reached.ok ? undefined : reached.error;
  }

  /** What a saved document says now; `undefined` where there is none that can be read. */
  get(id: string): T | undefined {
    const open = this.#opened.get(id);
    if (open !== undefined) return open.value;
    const value = this.#device.all.get(id)?.value;
    return value?.ok === true ? value.value : undefined;
  }

  /** Everything that the list says of a document. */
  about(id: string): ListedDocument<T> | undefined {
    const open = this.#opened.get(id);
    return open?.lasting === false ? listedOf(this.kind, open) : this.#device.all.get(id);
  }

  /**
   * Makes a document that takes edits at once, and is kept as soon as the device takes it. Whoever begins one
   * has waited for `prepare`.
   */
  begin(value: T, label: string): Result<OpenDocument<T>, string> {
    const keeper = keeperHere();
    if (keeper === undefined) throw new Error('a document is begun before it can be kept');
    const { store } = this.#with(keeper);
    const session = keeper.DocumentSession.begin(store, this.kind, newId(), value, label);
    if (!session.ok) return refuse(session.error.map(faultText).join(' '));
    const open = new keeper.OpenDocument(session.value);
    this.#opened.set(open.id, open);
    this.#device.remember();
    return ok(open);
  }

  /** Makes a document, and waits until the device has taken it, or cannot. */
  async create(value: T, label: string): Promise<Created> {
    const trouble = keeperHere() === undefined ? await this.prepare() : undefined;
    const begun = trouble === undefined ? this.begin(value, label) : refuse(trouble);
    if (!begun.ok) return { id: newId(), problem: begun.error };
    const { id } = begun.value;
    await begun.value.settled();
    const { problem } = begun.value;
    return { id, ...(problem === undefined ? {} : { problem }) };
  }

  /** The open document; always the same object for the same id. */
  async open(id: string): Promise<Result<OpenDocument<T>, string>> {
    const open = this.#opened.get(id);
    if (open !== undefined) return ok(open);
    const reached = await this.#reached();
    if (!reached.ok) return reached;
    const { keeper, store } = reached.value;
    const loaded = await store.load(id);
    if (!loaded.ok) return loaded;
    if (loaded.value === undefined) return refuse(this.unknown(id));
    const { entry } = loaded.value;
    if (entry.kind !== this.kind.kind) return refuse(this.unknown(id));
    // another call may have been quicker
    const quicker = this.#opened.get(id);
    if (quicker !== undefined) return ok(quicker);
    const session = keeper.DocumentSession.of(store, this.kind, loaded.value);
    if (!session.ok) return refuse(unreadable(entry.name, session.error));
    const document = new keeper.OpenDocument(session.value);
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

  /** Everything on the device, of every kind, as a file. */
  async everything(): Promise<Result<string, string>> {
    for (const open of this.#opened.values()) await open.settled();
    const reached = await this.#reached();
    if (!reached.ok) return reached;
    const { savedEverything } = await import('$lib/storage/saveEverything');
    return savedEverything(reached.value.store);
  }

  /** Brings a file with everything onto the device. */
  async restore(text: string): Promise<Result<string, readonly string[]>> {
    const reached = await this.#reached();
    if (!reached.ok) return refuse([reached.error]);
    const { restoredEverything } = await import('$lib/storage/saveEverything');
    const restored = await restoredEverything(reached.value.store, text, newId);
    await this.#look();
    return restored;
  }

  /** Tells why it cannot be called so. */
  async rename(id: string, name: string): Promise<string | undefined> {
    const opened = await this.open(id);
    if (!opened.ok) return opened.error;
    const faults = opened.value.rename(name);
    if (faults.length > 0) return faults.map(faultText).join(' ');
    await opened.value.settled();
    // that the device does not take it is told with the list
    return undefined;
  }

  /** Off the list, until it is put back. */
  delete(id: string): Promise<void> {
    return this.#setDeleted(id, true);
  }

  putBack(id: string): Promise<void> {
    return this.#setDeleted(id, false);
  }

  async #setDeleted(id: string, deleted: boolean): Promise<void> {
    const open = this.#opened.get(id);
    if (open === undefined) {
      const reached = await this.#reached();
      this.#refused = reached.ok
        ? await reached.value.store.setDeleted(id, deleted ? Date.now() : undefined)
        : reached.error;
    } else {
      open.setDeleted(deleted);
      await open.settled();
    }
  }

  /** With its whole past; nothing brings it back. */
  async removeForGood(id: string): Promise<void> {
    this.#opened.get(id)?.close();
    this.#opened.delete(id);
    const reached = await this.#reached();
    this.#refused = reached.ok ? await reached.value.store.remove(id) : reached.error;
    if (this.#refused === undefined) {
      this.#device.forget(id);
    }
    this.#device.remember();
  }

  /** Tries again to reach the device and to keep what is only in this tab. */
  async tryAgain(): Promise<void> {
    this.#refused = undefined;
    for (const open of this.#opened.values()) await open.tryAgain();
    await this.#look();
  }

  /** That something is missing has been read. */
  forgetMissing(): void {
    this.#device.missing = [];
    this.#device.remember();
  }

  /** Why an id leads to nothing. */
  unknown(id: string): string {
    const about = this.#device.all.get(id);
    if (about !== undefined && !about.value.ok) return unreadable(about.name, about.value.error);
    return `There is no ${this.kind.kind} “${id}” on this device. It may be kept in another browser, or deleted.`;
  }

  /** Takes what a message brings; where it brings nothing, the list is read anew. */
  #hear({ id, revision, news }: TabMessage): void {
    if (news === undefined) {
      if (revision > 0) void this.#look();
      else {
        this.#device.all.delete(id);
        this.#device.remember();
      }
      return;
    }
    const { kind, change, step } = news;
    if (kind !== this.kind.kind) return;
    const known = this.#device.all.get(id);
    // messages of two tabs may cross
    if (known !== undefined && known.revision >= revision) return;
    this.#device.take({ entry: { ...change.entry, revision }, step });
    if (known?.name !== change.entry.name) this.#device.remember();
  }

  /** Reads the list anew; what has not changed stays the same object. */
  #look(): Promise<void> {
    if (this.#looking !== undefined) this.#lookAgain = true;
    this.#looking ??= (async () => {
      const reached = await this.#reached();
      if (!reached.ok) this.#device.problem = reached.error;
      else {
        const { keeper, store } = reached.value;
        if (!this.ready) await keeper.takeUp(store, this.kind);
        do {
          this.#lookAgain = false;
          await this.#device.read(reached.value);
        } while (this.#lookAgain);
      }
      this.#looking = undefined;
      this.ready = true;
      this.#known();
    })();
    return this.#looking;
  }
}

const unreadable = (name: string, faults: readonly DocumentFault[]): string =>
  `“${name}” is kept on this device but cannot be read: ${faults.slice(0, 3).map(faultText).join(' ')}`;
