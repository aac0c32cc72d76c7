/**
 * A visit to the page Change: addresses and setups come and go, a proposal is applied, and of several that are
 * asked for while what is saved is looked for, the last counts.
 */
import { USUAL_SETUP, builtIn } from '$lib/setup/builtIns';
import type { Setups } from '$lib/ui/shelf/setups.svelte';
import { applyChange, keepBeside, type Applied } from './applyChange';
import type { ChangePage } from './change.svelte';
import type { ChangeAddress } from './changeAddress';
import { proposalWords } from './proposalWords';
import type { SuggestRun } from './suggestRun.svelte';

export class ChangeVisit {
  readonly #change: ChangePage;
  readonly #run: SuggestRun;
  readonly #setups: Setups;
  readonly #begin: () => () => boolean;
  /** The device is about to keep a proposal: pressed twice, it is applied once. */
  #applying = false;

  neck = $state(1);
  /** What could not be done, as a sentence. */
  trouble = $state<string | undefined>();
  applied = $state.raw<Applied | undefined>();
  /** What is proposed, in words; empty where nothing is. */
  readonly proposed = $derived.by(() =>
    this.#change.changed ? proposalWords(this.#change.after, this.#change.proposal) : '',
  );

  /** `begin` opens something of which only the newest counts; its answer says whether it still does. */
  constructor(change: ChangePage, run: SuggestRun, setups: Setups, begin: () => () => boolean) {
    this.#change = change;
    this.#run = run;
    this.#setups = setups;
    this.#begin = begin;
  }

  async open(address: ChangeAddress, newest: () => boolean): Promise<void> {
    this.#run.forget();
    this.applied = undefined;
    const before = await this.#setups.find(address.setup);
    if (!newest()) return;
    this.trouble = before === undefined ? this.#setups.unknown(address.setup) : undefined;
    await this.#change.open(
      before === undefined ? { ...address, setup: USUAL_SETUP } : address,
      before ?? builtIn(USUAL_SETUP),
    );
  }

  async changeSetup(id: string): Promise<void> {
    const newest = this.#begin();
    const before = await this.#setups.find(id);
    if (!newest()) return;
    if (before === undefined) {
      // deleted in another tab, while it still stood in the list
      this.trouble = this.#setups.unknown(id);
      return;
    }
    this.neck = 1;
    this.trouble = this.applied = undefined;
    this.#run.forget();
    await this.#change.changeSetup(id, before);
  }

  /** Makes the proposal real; the page goes on with the setup that has it. */
  async apply(): Promise<void> {
    if (this.#applying) return;
    this.#applying = true;
    const newest = this.#begin();
    const { setupId, proposal, after } = this.#change;
    const done = await applyChange(this.#setups, setupId, { proposal, after }, this.proposed);
    this.#applying = false;
    if (!newest()) return;
    if (!done.ok) {
      this.trouble = done.error;
      return;
    }
    this.#run.forget();
    await this.#change.changeSetup(done.value.id, this.#setups.get(done.value.id) ?? after);
    if (!newest()) return;
    this.trouble = undefined;
    this.applied = done.value;
  }

  /** Keeps the setup as it was too, so that there is a way from its rig to the new one. */
  async keepBeside(): Promise<void> {
    const { applied } = this;
    if (this.#applying || applied === undefined) return;
    this.#applying = true;
    const kept = await keepBeside(this.#setups, applied);
    this.#applying = false;
    if (this.applied !== applied) return;
    this.trouble = kept.ok ? undefined : kept.error;
    if (kept.ok) this.applied = kept.value;
  }
}
