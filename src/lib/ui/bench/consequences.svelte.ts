/**
 * What edits do: the tally of the setup as it is, and as it was before the last edit. While one count
 * is on its way only the newest setup waits for the next, so that typing never queues up work.
 */
import { ok, type Result } from '$lib/result';
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
      const [old, now] = [await this.#tally(was), await this.#tally(is)];
      // a newer edit was made meanwhile
      if (this.#wanted[0] !== was || this.#wanted[1] !== is) continue;
      this.#wanted = undefined;
      const failed = [old, now].find((each) => !each.ok);
      this.failure = failed?.ok === false ? failed.error : undefined;
      if (!old.ok || !now.ok) continue;
      this.rows = now.value.map(({ type, voicings }, index) => ({
        type,
        before: old.value[index]?.voicings ?? 0,
        after: voicings,
      }));
    }
    this.#counting = false;
    this.busy = false;
  }

  async #tally(setup: Setup): Promise<Result<readonly TypeCount[], string>> {
    const known = this.#known.get(setup);
    if (known !== undefined) return ok(known);
    const counted = await this.#count(setup);
    if (counted.ok) this.#known.set(setup, counted.value);
    return counted;
  }
}
