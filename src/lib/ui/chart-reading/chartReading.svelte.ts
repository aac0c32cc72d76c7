/** A chart that is being read: its text, what was chosen where it was doubtful, and the setup that it gives. */
import { SvelteMap } from 'svelte/reactivity';
import { fault } from '$lib/documentFaults';
import { faultText } from '$lib/faults';
import type { Doubt } from '$lib/formats/read/chart/doubts';
import type { readChart } from '$lib/formats/read/chart/readChart';
import { MOST_CHART_BYTES, chartTextOf } from '$lib/formats/read/chartBytes';
import type { Setup } from '$lib/setup/setup';
import { BOUNDS } from '$lib/setup/bounds';
import type { OpenedFile } from '$lib/storage/textFile';

export class ChartReading {
  text = $state('');
  /** What the setup is to be called; as the chart says while it is empty. */
  name = $state('');
  /** Why a file could not be opened. */
  problem = $state('');
  readonly #settled = new SvelteMap<string, string>();
  /** What reads charts; it is fetched while the page is looked at. */
  #reader = $state.raw<typeof readChart | undefined>();

  readonly #read = $derived.by(() =>
    this.text.trim() === ''
      ? undefined
      : this.#reader?.(this.text, Object.fromEntries(this.#settled)),
  );
  readonly doubts: readonly Doubt[] = $derived.by(() =>
    this.#read?.ok === true ? this.#read.value.doubts : [],
  );
  /** As it would be kept. */
  readonly setup: Setup | undefined = $derived.by(() => {
    if (this.#read?.ok !== true) return undefined;
    const { setup } = this.#read.value;
    const name = this.name.trim().slice(0, BOUNDS.name[1]);
    return name === '' ? setup : { ...setup, name };
  });
  /** Why the text is no chart: a sentence. */
  readonly refused: string = $derived.by(() =>
    this.#read?.ok === false ? faultText({ ...this.#read.error, path: 'The text' }) : '',
  );
  /** Doubts that can be settled, and are not. */
  readonly open = $derived.by(
    () => this.doubts.filter(({ choices, isSettled }) => choices.length > 0 && !isSettled).length,
  );

  /** Fetches what reads charts. */
  async prepare(): Promise<void> {
    try {
      ({ readChart: this.#reader } = await import('$lib/formats/read/chart/readChart'));
    } catch {
      this.problem =
        'What reads charts could not be loaded. Look whether there is a network, and load the page anew.';
    }
  }

  /** Another text is read; what was chosen in the one before is forgotten. */
  take(text: string): void {
    this.#settled.clear();
    this.problem = '';
    this.text = text;
    // it could not be fetched before
    if (this.#reader === undefined) void this.prepare();
  }

  settle(key: string, choice: string): void {
    this.#settled.set(key, choice);
  }

  async openFile(file: OpenedFile): Promise<void> {
    if (file.size > MOST_CHART_BYTES) {
      this.problem = faultText(fault('file.tooLarge', file.name, file.size, MOST_CHART_BYTES));
      return;
    }
    try {
      this.take(chartTextOf(new Uint8Array(await file.arrayBuffer())));
    } catch {
      this.problem = faultText(fault('file.unreadable', file.name));
    }
  }
}
