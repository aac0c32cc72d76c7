/**
 * Every setup that can be chosen in any place of the program: those that come with it, those saved
 * on this device, and those that were opened from a link or a file only to be looked at. One object
 * for the whole page, handed down by the layout. An address names a setup by its id.
 *
 * `get(id)` follows every edit, from other tabs too. Saved setups are known once `ready`; a page that
 * opens an address waits for `whenReady` and tells `unknown(id)` where `get` gives nothing.
 */
import { getContext, setContext } from 'svelte';
import { SvelteMap } from 'svelte/reactivity';
import { BUILT_IN_IDS, builtIn, isBuiltInId } from '$lib/setup/builtIns';
import { copied } from '$lib/setup/edits/copied';
import type { Setup } from '$lib/setup/setup';
import { isReadSetup } from '$lib/setup/setupOf';
import type { Kind } from '$lib/storage/kind';
import { storeForTab, storedForTab } from '$lib/storage/tab';
import { Documents } from './documents.svelte';
import { keeperHere, type Keeper } from './keeperHere';
import { newId } from './newId';
import type { OpenDocument } from './openDocument.svelte';

function keeper(): Keeper {
  const here = keeperHere();
  if (here === undefined) throw new Error('a setup is read before what reads it is here');
  return here;
}

/** What reads, writes and merges setups comes with what keeps them: before that is here, none is read. */
const setupKind: Kind<Setup> = {
  kind: 'setup',
  read: (text) => keeper().setupKind.read(text),
  write: (setup) => keeper().setupKind.write(setup),
  nameOf: ({ name }) => name,
  named: (setup, name) => ({ ...setup, name }),
  isRead: isReadSetup,
  merge: (three) => keeper().mergeSetups(three),
};

export interface SetupChoice {
  readonly id: string;
  readonly name: string;
}

/** What the ids of setups begin with that are looked at without being stored. */
const TEMPORARY = 'lent-';

export class Setups extends Documents<Setup> {
  readonly builtIn: readonly SetupChoice[] = BUILT_IN_IDS.map((id) => ({
    id,
    name: builtIn(id).name,
  }));
  readonly #temporary = new SvelteMap<string, Setup>();
  readonly temporary: readonly SetupChoice[] = $derived(
    [...this.#temporary].map(([id, { name }]) => ({ id, name })),
  );

  constructor() {
    super(setupKind);
  }

  /** The setup with an id, or `undefined` where there is none. */
  override get(id: string): Setup | undefined {
    if (isBuiltInId(id)) return builtIn(id);
    return id.startsWith(TEMPORARY) ? this.#temporary.get(id) : super.get(id);
  }

  /** Waits until it is known whether there is a setup with this id, and gives it. */
  async find(id: string): Promise<Setup | undefined> {
    if (id.startsWith(TEMPORARY)) await this.#recall(id);
    else if (!isBuiltInId(id)) await this.whenReady;
    return this.get(id);
  }

  /**
   * The copy (begun after `prepare`) that takes the edits of a setup which is not to be changed: one that comes with the program, or
   * is only looked at. It takes them at once; its name has a word more, where there is room.
   */
  beginCopy(
    setup: Setup,
    { word = 'copy', label = `copied from “${setup.name}”` } = {},
  ): OpenDocument<Setup> {
    const begun = this.begin(copied(setup, word), label);
    // every setup has come through the reader, and `copied` keeps to the bounds
    if (!begun.ok) throw new Error(`a copy that cannot be: ${begun.error}`);
    return begun.value;
  }

  /** Makes a setup known for the time of this tab, without keeping it; gives its id. */
  async addTemporary(setup: Setup): Promise<string> {
    const id = newId().replace('kept-', TEMPORARY);
    this.#temporary.set(id, setup);
    if ((await this.prepare()) === undefined) storeForTab(id, this.kind.write(setup));
    return id;
  }

  override unknown(id: string): string {
    return id.startsWith(TEMPORARY)
      ? 'That setup was only looked at, and this tab has not got it any more. Open its link or file again.'
      : super.unknown(id);
  }

  /** A temporary setup after a reload of the tab. */
  async #recall(id: string): Promise<void> {
    if (this.#temporary.has(id)) return;
    const text = storedForTab(id);
    if (text === undefined || (await this.prepare()) !== undefined) return;
    const read = this.kind.read(text);
    if (read.ok) this.#temporary.set(id, read.value);
  }
}

const KEY = Symbol('setups');

export const provideSetups = (setups: Setups): Setups => setContext(KEY, setups);

export function useSetups(): Setups {
  const setups = getContext<Setups | undefined>(KEY);
  if (setups === undefined) throw new Error('the layout provides no setups');
  return setups;
}
