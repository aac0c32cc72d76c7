/**
 * What edits do: the tally of the setup as it is, and as it was before the last edit. While one count
 * is on its way only the newest setup waits for the next, so that typing never queues up work.
 */
import type { Result } from '$lib/result';
import type { TypeCount } from '$lib/coverage/typeShapes';
import type { Setup } from '$lib/setup/setup';

export type Counting = (setup: Setup) => Promise<Result<readonly TypeCount[], string>>;

export interface Consequence {
  readonly type: string;
  readonly before: number;
  readonly after: number;
}

export class Consequences {
  readonly #count: Counting;
  readonly #known = new WeakMap<Setup, readonly TypeCount[]>();
  #wanted: readonly [before: Setup, after: Setup] | undefined;
  #counting = false;

  rows = $state.raw<readonly Consequence[]>([]);
  busy = $state(false);
  failure = $state<string | undefined>();

  constructor(count: Counting) {
    this.#count = count;
  }

  /** Tells what has become of one setup by becoming another; of a setup alone, what it has. */
  async compare(before: Setup, after: Setup): Promise<void> {
    this.#wanted = [before, after];
    this.busy = true;
    if (this.#counting) return;
    this.#counting = true;
    while (this.#wanted !== undefined) {
      const [was, is] = this.#wanted;
      const tallies = [await this.#tally(was), await this.#tally(is)] as const;
      // a newer edit was made meanwhile
      if (this.#wanted[0] !== was || this.#wanted[1] !== is) continue;
      this.#wanted = undefined;
      const [old, now] = tallies;
      if (old === undefined || now === undefined) continue;
      this.rows = now.map(({ type, voicings }, place) => ({
        type,
        before: old[place]?.voicings ?? 0,
        after: voicings,
      }));
    }
    this.#counting = false;
    this.busy = false;
  }

  async #tally(setup: Setup): Promise<readonly TypeCount[] | undefined> {
    const known = this.#known.get(setup);
    if (known !== undefined) return known;
    const counted = await this.#count(setup);
    this.failure = counted.ok ? undefined : counted.error;
    if (!counted.ok) return undefined;
    this.#known.set(setup, counted.value);
    return counted.value;
  }
}
