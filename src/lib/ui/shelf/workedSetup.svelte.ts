/**
 * A setup that a page reads and now and then writes into: a saved one is edited where it is, one that
 * comes with the program is copied onto this device with the first edit.
 */
import { builtIn } from '$lib/setup/builtIns';
import { readSetupText } from '$lib/setup/readSetup';
import { setupText } from '$lib/setup/writeSetup';
import type { Result } from '$lib/result';
import type { Setup } from '$lib/setup/setup';
import type { Edited } from '$lib/setup/edits/edited';
import type { OpenDocument } from './openDocument.svelte';
import type { Setups } from './setups.svelte';

export class WorkedSetup {
  readonly #setups: Setups;
  readonly #onmoved: (id: string) => void;
  #opening = 0;
  /** A copy that is on its way, and of what. */
  #copy:
    | { readonly of: string; readonly made: Promise<Result<OpenDocument<Setup>, string>> }
    | undefined;
  #document = $state.raw<OpenDocument<Setup> | undefined>();
  id = $state('e9');
  /** Why something cannot be, as a sentence. */
  problem = $state<string | undefined>();
  /** What the last edit did. */
  notice = $state('');

  readonly setup: Setup = $derived.by(
    () => this.#document?.value ?? this.#setups.get(this.id) ?? builtIn('e9'),
  );
  /** Edits go into the setup itself, and not into a copy first. */
  readonly isStored = $derived(this.#document !== undefined);
  readonly canUndo = $derived(this.#document?.canUndo ?? false);
  readonly undoes = $derived(this.#document?.undoes);
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
    this.id = found === undefined ? 'e9' : id;
    this.problem = found === undefined ? this.#setups.unknown(id) : undefined;
  }

  /** Makes an edit; gives a sentence where it cannot be. */
  async edit(change: (setup: Setup) => Edited, label: string): Promise<string | undefined> {
    const next = change(this.setup);
    if (!next.ok) return next.error;
    if (this.#document !== undefined) {
      this.#document.edit(next.value, label);
      this.notice = `${label}.`;
      return undefined;
    }
    // edits that are made before the copy is there go into the same one
    if (this.#copy?.of !== this.id) this.#copy = { of: this.id, made: this.#copied() };
    const copy = await this.#copy.made;
    if (!copy.ok) return copy.error;
    const edited = change(copy.value.value);
    if (!edited.ok) {
      this.problem = edited.error;
      return edited.error;
    }
    copy.value.edit(edited.value, label);
    return undefined;
  }

  /** The copy of what is read, as it was, so that the first edit can be taken back. */
  async #copied(): Promise<Result<OpenDocument<Setup>, string>> {
    const { id: of, setup } = this;
    const number = this.#opening;
    const named = { ...setup, name: `${setup.name}, mine` };
    // a name that has no room for one word more stays as it is
    const copy = readSetupText(setupText(named)).ok ? named : setup;
    const { id } = await this.#setups.create(copy, 'the copy');
    const opened = await this.#setups.open(id);
    if (this.#copy?.of === of) this.#copy = undefined;
    // something else is read by now, or will be
    if (number !== this.#opening) return opened;
    if (opened.ok) {
      this.problem = undefined;
      this.#document = opened.value;
      this.id = id;
      this.#onmoved(id);
      this.notice = `A copy is kept on this device as “${copy.name}”.`;
    } else this.problem = opened.error;
    return opened;
  }

  undo(): void {
    const label = this.#document?.undoes;
    this.#document?.undo();
    this.notice = `Taken back: ${label ?? ''}.`;
  }
}
