/**
 * The page's side of one worker. A worker that fails (it could not be loaded, it ran out of memory,
 * it met a bug) answers no more: what was asked is refused with a sentence instead of waiting for
 * ever, and the next question starts a new one.
 */
import { wrap, type Remote } from 'comlink';
import { ok, refuse, type Result } from '$lib/result';

interface Running<Desk> {
  readonly worker: Worker;
  readonly desk: Remote<Desk>;
  readonly failure: Promise<never>;
}

const reasonOf = (error: unknown): string =>
  error instanceof Error && error.message !== '' ? error.message : 'it gave no reason';

export class RunWorker<Desk> {
  readonly #start: () => Worker;
  #running: Running<Desk> | undefined;

  constructor(start: () => Worker) {
    this.#start = start;
  }

  /** No worker runs: the next question starts one, which knows nothing of those before. */
  get fresh(): boolean {
    return this.#running === undefined;
  }

  #run(): Running<Desk> {
    if (this.#running !== undefined) return this.#running;
    const worker = this.#start();
    const failure = new Promise<never>((_, reject) => {
      worker.addEventListener('error', (event) => {
        reject(new Error(event.message || 'its program could not be loaded'));
      });
      worker.addEventListener('messageerror', () => {
        reject(new Error('its answer could not be read'));
      });
    });
    // it is waited for only while something is asked
    failure.catch(() => undefined);
    this.#running = { worker, desk: wrap<Desk>(worker), failure };
    return this.#running;
  }

  async ask<T>(job: (desk: Remote<Desk>) => Promise<T>): Promise<Result<T, string>> {
    const { worker, desk, failure } = this.#run();
    try {
      return ok(await Promise.race([job(desk), failure]));
    } catch (error) {
      worker.terminate();
      if (this.#running?.worker === worker) this.#running = undefined;
      return refuse(`The work stopped: ${reasonOf(error)}. It starts anew with the next question.`);
    }
  }

  dispose(): void {
    this.#running?.worker.terminate();
    this.#running = undefined;
  }
}
