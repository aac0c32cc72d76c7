/**
 * What lies on the device of one kind: the documents as they are listed, what is damaged, and what was here
 * at the last visit and is not found now. `Documents` says when it is read.
 */
import { SvelteMap } from 'svelte/reactivity';
import type { Kind } from '$lib/storage/kind';
import type { Head } from '$lib/storage/disk';
import type { Known } from '$lib/storage/known';
import type { Damaged } from '$lib/storage/recovered';
import type { Store } from '$lib/storage/store';
import { keeperHere, type Keeper } from './keeperHere';
import { OnDevice } from './listed';

/** What keeps documents, and where. */
export interface Reached {
  readonly keeper: Keeper;
  readonly store: Store;
}

export class DeviceList<T> {
  readonly #kind: Kind<T>;
  /** Opens a document, so that one whose newest step is damaged shows those before it. */
  readonly #open: (id: string) => Promise<unknown>;
  /** Documents that the device has not taken yet. */
  readonly #inTab: () => readonly { readonly id: string; readonly name: string }[];
  /** What there is was compared with what was known last. */
  #counted = false;

  readonly all = new SvelteMap<string, OnDevice<T>>();
  damaged = $state.raw<readonly Damaged[]>([]);
  missing = $state.raw<readonly Known[]>([]);
  /** Why the device does not answer. */
  problem = $state<string | undefined>();

  constructor(
    kind: Kind<T>,
    open: (id: string) => Promise<unknown>,
    inTab: () => readonly { readonly id: string; readonly name: string }[],
  ) {
    this.#kind = kind;
    this.#open = open;
    this.#inTab = inTab;
  }

  /** Reads it anew; what has not changed stays the same object. */
  async read(reached: Reached): Promise<void> {
    const { keeper, store } = reached;
    const { listed, problem } = await store.list(this.#kind.kind);
    this.problem = problem;
    // what is not listed is gone; unless the device did not answer, then it is as it was
    if (problem !== undefined) return;
    const ids = listed.map(({ entry }) => entry.id);
    for (const id of this.all.keys()) if (!ids.includes(id)) this.all.delete(id);
    for (const head of listed) this.take(head);
    await this.#readDamaged(reached);
    if (!this.#counted) {
      const here = [...ids, ...this.damaged.map(({ id }) => id)];
      this.missing = keeper.knownLast(this.#kind.kind).filter(({ id }) => !here.includes(id));
      this.#counted = true;
    }
    this.remember();
  }

  async #readDamaged({ keeper, store }: Reached): Promise<void> {
    const damaged: Damaged[] = [];
    for (const each of await store.damaged())
      if (each.kind !== undefined && each.kind !== this.#kind.kind) continue;
      else if (!(await keeper.adopt(store, this.#kind, each))) damaged.push(each);
    this.damaged = damaged;
    // a step that is damaged hides none of those before it
    for (const { id, value } of this.all.values()) if (!value.ok) await this.#open(id);
  }

  take({ entry, step }: Head): void {
    const old = this.all.get(entry.id);
    if (old?.revision === entry.revision && old.text === step.text) return;
    this.all.set(entry.id, new OnDevice(this.#kind, { entry, step }, old));
  }

  /** It is no longer there. */
  forget(id: string): void {
    this.all.delete(id);
    this.damaged = this.damaged.filter((each) => each.id !== id);
  }

  /** Notes what there is, for the next start. */
  remember(): void {
    if (!this.#counted) return;
    this.missing = this.missing.filter(({ id }) => !this.all.has(id));
    keeperHere()?.storeKnown(this.#kind.kind, [
      ...this.all.values(),
      ...this.#inTab(),
      ...this.missing,
    ]);
  }
}
