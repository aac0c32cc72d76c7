/**
 * A setup that a page reads and now and then writes into: a saved one is edited where it is, one that
 * comes with the program is copied onto this device with the first edit.
 */
import { USUAL_SETUP, builtIn } from '$lib/setup/builtIns';
import { faultText } from '$lib/faults';
import { copied } from '$lib/setup/edits/copied';
import type { Setup } from '$lib/setup/setup';
import type { Edited } from '$lib/setup/edits/edited';
import type { Typing } from '$lib/ui/kit/fieldText.svelte';
import type { OpenDocument } from './openDocument.svelte';
import type { Setups } from './setups.svelte';
import * as keeper from './keeper';
import { provideKeeper } from './keeperHere';

// edits count at once: a place for them has what keeps them from the start
provideKeeper(keeper);

/** What is added to the name of a copy. */
const WORD = 'mine';

export class WorkedSetup {
  readonly #setups: Setups;
  readonly #onmoved: (id: string) => void;
  #opening = 0;
  #document = $state.raw<OpenDocument<Setup> | undefined>();
  id = $state<string>(USUAL_SETUP);
  /** Why something cannot be, as a sentence. */
  problem = $state<string | undefined>();
  /** What the last edit did. */
  notice = $state('');

  /** The saved setup that edits go into; `undefined` until a copy is made. */
  get document(): OpenDocument<Setup> | undefined {
    return this.#document;
  }
  readonly setup: Setup = $derived.by(
    () => this.#document?.value ?? this.#setups.get(this.id) ?? builtIn(USUAL_SETUP),
  );
  /** Edits go into the setup itself, and not into a copy first. */
  readonly isStored = $derived(this.#document !== undefined);
  readonly canUndo = $derived(this.#document?.canUndo ?? false);
  readonly undoes = $derived(this.#document?.undoes);
  readonly canRedo = $derived(this.#document?.canRedo ?? false);
  readonly redoes = $derived(this.#document?.redoes);
  readonly trouble = $derived(this.problem ?? this.#document?.problem);

  /** `onmoved` is told the id under which an edited copy is saved. */
  constructor(setups: Setups, onmoved: (id: string) => void) {
    this.#setups = setups;
    this.#onmoved = onmoved;
  }

  /** Reads the setup with an id from now on; of several that are asked for, the last. */
  async open(id: string): Promise<void> {
    const number = ++this.#opening;
    const found = await this.#setups.find(id);
    const stored = found !== undefined && this.#setups.about(id) !== undefined;
    const opened = stored ? await this.#setups.open(id) : undefined;
    if (number !== this.#opening) return;
    this.notice = '';
    this.#document = opened?.ok ? opened.value : undefined;
    this.id = found === undefined ? USUAL_SETUP : id;
    this.problem = found === undefined ? this.#setups.unknown(id) : undefined;
  }

  /**
   * Makes an edit, at once; gives a sentence where it cannot be. Waits until the device has taken a copy
   * that it makes. Letters that are typed in one go join.
   */
  async edit(
    change: (setup: Setup) => Edited,
    label: string,
    { joins = false, ...typing }: Partial<Typing> = {},
  ): Promise<string | undefined> {
    const own = this.#document;
    const { setup } = this;
    const next = change(own === undefined ? copied(setup, WORD) : setup);
    if (!next.ok) return next.error;
    const document = own ?? this.#setups.beginCopy(setup, { word: WORD, label: 'the copy' });
    const faults = document.edit(next.value, label, { joins, ...typing });
    if (faults.length > 0) return faults.map(faultText).join(' ');
    if (own === undefined) await this.#goOnIn(document);
    else this.notice = `${label}.`;
    return undefined;
  }

  /**
   * The copy of what was read takes the edits from now on. The address names it at once: a page that is left
   * before the device has taken it lays it down, and the next one finds it there.
   */
  async #goOnIn(copy: OpenDocument<Setup>): Promise<void> {
    const number = ++this.#opening;
    this.problem = undefined;
    this.#document = copy;
    this.id = copy.id;
    this.#onmoved(copy.id);
    await copy.settled();
    // something else may be read by now
    if (number === this.#opening && copy.saved)
      this.notice = `A copy is kept on this device as “${copy.name}”.`;
  }

  undo(): void {
    const label = this.#document?.undoes;
    this.#document?.undo();
    this.notice = `Undone: ${label ?? ''}.`;
  }

  redo(): void {
    const label = this.#document?.redoes;
    this.#document?.redo();
    this.notice = `Redone: ${label ?? ''}.`;
  }

  /** An edit of a field: its fault is given at once, to stand where it was written. */
  fill(change: (setup: Setup) => Edited, label: string, options?: Typing): string | undefined {
    const tried = change(this.setup);
    if (!tried.ok) return tried.error;
    void this.edit(change, label, options);
    return undefined;
  }

  /** Goes on in a copy of what is read, which is kept. */
  async duplicate(): Promise<void> {
    const { setup } = this;
    const begun = this.#setups.begin(copied(setup), `duplicated from “${setup.name}”`);
    if (!begun.ok) this.problem = begun.error;
    else await this.#goOnIn(begun.value);
  }
}
