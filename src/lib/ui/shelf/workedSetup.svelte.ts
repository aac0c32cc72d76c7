/**
 * A setup that a page reads and now and then writes into: a kept one is edited where it is, one that
 * comes with the program is copied onto this device with the first edit.
 */
import { builtIn } from '$lib/setup/builtIns';
import type { Setup } from '$lib/setup/setup';
import type { Edited } from '$lib/setup/edits/edited';
import type { OpenDocument } from './openDocument.svelte';
import type { Setups } from './setups.svelte';

export class WorkedSetup {
  readonly #setups: Setups;
  readonly #onmoved: (id: string) => void;
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

  /** `onmoved` is told the id under which an edited copy is kept. */
  constructor(setups: Setups, onmoved: (id: string) => void) {
    this.#setups = setups;
    this.#onmoved = onmoved;
  }

  async open(id: string): Promise<void> {
    this.problem = undefined;
    this.notice = '';
    const found = await this.#setups.find(id);
    if (found === undefined) {
      this.problem = this.#setups.unknown(id);
      this.#document = undefined;
      this.id = 'e9';
      return;
    }
    const opened = this.#setups.about(id) === undefined ? undefined : await this.#setups.open(id);
    this.#document = opened?.ok ? opened.value : undefined;
    this.id = id;
  }

  /** Makes an edit; gives a sentence where it cannot be. */
  async edit(change: (setup: Setup) => Edited, label: string): Promise<string | undefined> {
    const next = change(this.setup);
    if (!next.ok) return next.error;
    if (this.isStored) this.#write(next.value, label);
    else {
      const name = `${this.setup.name}, mine`;
      // first the copy as it was, so that the edit can be taken back
      const { id } = await this.#setups.create({ ...this.setup, name }, 'the copy');
      await this.open(id);
      const edited = change(this.setup);
      if (edited.ok) this.#write(edited.value, label);
      this.#onmoved(id);
      this.notice = `A copy is kept on this device as “${name}”.`;
      return undefined;
    }
    this.notice = `${label}.`;
    return undefined;
  }

  #write(setup: Setup, label: string): void {
    this.#document?.edit(setup, label);
  }

  undo(): void {
    const label = this.#document?.undoes;
    this.#document?.undo();
    this.notice = `Taken back: ${label ?? ''}.`;
  }
}
