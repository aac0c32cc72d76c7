/**
 * Which setup the Bench works on. One that is saved is edited where it is; any other (it comes with
 * the program, or is only looked at) stays as it is, and the first edit makes a copy that is saved.
 */
import { USUAL_SETUP, builtIn } from '$lib/setup/builtIns';
import type { Setup } from '$lib/setup/setup';
import type { OpenDocument } from '$lib/ui/shelf/openDocument.svelte';
import * as keeper from '$lib/ui/shelf/keeper';
import { provideKeeper } from '$lib/ui/shelf/keeperHere';
import type { Setups } from '$lib/ui/shelf/setups.svelte';
import type { Bench } from './bench.svelte';
import { Draft } from './draft.svelte';
import { BENCH_HOME } from './benchAddress';

// edits count at once: the Bench has what keeps them from the start
provideKeeper(keeper);

export class Keeping {
  readonly #setups: Setups;
  readonly #bench: Bench;
  readonly #onid: (id: string) => void;
  #opening = 0;

  id = $state(BENCH_HOME.setup);
  /** The setup that is saved; `undefined` while it is another's or only looked at. */
  document = $state.raw<OpenDocument<Setup> | undefined>();
  /** Why an address leads to no setup, or a setup cannot be saved: a sentence. */
  problem = $state<string | undefined>();

  /** `onid` is told when what is worked on has got another id. */
  constructor(setups: Setups, bench: Bench, onid: (id: string) => void) {
    this.#setups = setups;
    this.#bench = bench;
    this.#onid = onid;
    bench.onfirst = (setup) => this.#copy(setup);
  }

  /** Works on the setup with an id from now on. */
  async open(id: string, neck = 1): Promise<void> {
    const number = ++this.#opening;
    const found = await this.#setups.find(id);
    const opened = this.#setups.about(id) === undefined ? undefined : await this.#setups.open(id);
    if (number !== this.#opening) return;
    this.id = id;
    this.problem = undefined;
    this.document = opened?.ok === true ? opened.value : undefined;
    if (this.document !== undefined) this.#bench.take(this.document, neck);
    else if (found !== undefined) this.#bench.take(new Draft(found), neck, { lent: true });
    else {
      this.problem = opened?.ok === false ? opened.error : this.#setups.unknown(id);
      this.id = BENCH_HOME.setup;
      this.#bench.take(new Draft(builtIn(USUAL_SETUP)), 1, { lent: true });
    }
  }

  /** Keeps a setup that was not there before, and works on it. */
  async begin(setup: Setup, label: string): Promise<void> {
    const begun = this.#setups.begin(setup, label);
    if (!begun.ok) {
      this.problem = begun.error;
      return;
    }
    this.#bench.take(begun.value);
    this.#goOnIn(begun.value);
    await begun.value.settled();
  }

  /** The copy that takes the edits. */
  #copy(setup: Setup): OpenDocument<Setup> {
    const copy = this.#setups.beginCopy(setup);
    this.#goOnIn(copy);
    return copy;
  }

  /**
   * The address names it at once: a page that is left before the device has taken it lays it down, and
   * the next one finds it there.
   */
  #goOnIn(document: OpenDocument<Setup>): void {
    this.#opening += 1;
    this.problem = undefined;
    this.document = document;
    this.id = document.id;
    this.#onid(document.id);
  }
}
