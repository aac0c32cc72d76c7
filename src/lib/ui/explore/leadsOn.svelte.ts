/** What leads on from what is held: the newest answer, and why there is none. */
import type { Setup } from '$lib/setup/setup';
import type { Hold } from '$lib/search/hold';
import type { LeadsOn } from '$lib/answers/leadsOn';
import type { WorkerPool } from '$lib/ui/worker/workerPool';

/** A list of what one position leads on to. */
export class LeadsOnList {
  readonly #pool: Pick<WorkerPool, 'ask'>;
  #questions = 0;
  /** What the answer is of. */
  from = $state.raw<Hold | undefined>();
  answer = $state.raw<LeadsOn | undefined>();
  failure = $state<string | undefined>();

  constructor(pool: Pick<WorkerPool, 'ask'>) {
    this.#pool = pool;
  }

  /** Asks for another hold; the last answer stands until the new one is there. */
  async ask(setup: Setup, hold: Hold, key: string, symbol: string): Promise<void> {
    const question = ++this.#questions;
    const told = await this.#pool.ask('leadsFrom', setup, hold, key, symbol);
    if (question !== this.#questions) return;
    this.failure = told.ok ? undefined : told.error;
    if (!told.ok) return;
    this.from = hold;
    this.answer = told.value;
  }
}
