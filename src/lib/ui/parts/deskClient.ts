/**
 * The page's side of a worker that keeps a desk. A worker that fails (it could not be loaded, it ran
 * out of memory, it met a bug) answers no more: what was asked is refused with a sentence instead of
 * waiting for ever, and the next question starts a new one.
 */
import { wrap, type Remote } from 'comlink';
import { ok, refuse, type Result } from '$lib/result';

interface Running<Desk> {
  readonly worker: Worker;
  readonly desk: Remote<Desk>;
  /** Whoever waits for an answer, and is told when there will be none. */
  readonly waiting: Set<(reason: Error) => void>;
}

/**
 * What is drawn from an answer is another task than reading the answer: together they keep a finger
 * waiting for too long on a slow device.
 */
const nextTask = (): Promise<void> => new Promise((done) => setTimeout(done, 0));

const reasonOf = (error: unknown): string =>
  error instanceof Error && error.message !== '' ? error.message : 'it gave no reason';

export class DeskClient<Desk> {
  readonly #start: () => Worker;
  readonly #onfailure: () => void;
  #running: Running<Desk> | undefined;

  /** `onfailure` is told that the next question will meet a desk that knows nothing. */
  constructor(start: () => Worker, onfailure: () => void = () => undefined) {
    this.#start = start;
    this.#onfailure = onfailure;
  }

  #run(): Running<Desk> {
    if (this.#running !== undefined) return this.#running;
    const worker = this.#start();
    const waiting = new Set<(reason: Error) => void>();
    const fail = (reason: string): void => {
      // with nobody waiting there is nobody to tell: the next question starts a new one
      if (waiting.size === 0) this.#end(worker);
      for (const reject of waiting) reject(new Error(reason));
    };
    worker.addEventListener('error', (event) => {
      fail(event.message || 'its program could not be loaded');
    });
    worker.addEventListener('messageerror', () => fail('its answer could not be read'));
    this.#running = { worker, desk: wrap<Desk>(worker), waiting };
    return this.#running;
  }

  /** Starts the worker ahead of the first question, to load while the page does. */
  begin(): void {
    this.#run();
  }

  async ask<T>(job: (desk: Remote<Desk>) => Promise<T>): Promise<Result<T, string>> {
    const { worker, desk, waiting } = this.#run();
    let failed: ((reason: Error) => void) | undefined;
    try {
      const answer = await new Promise<T>((done, reject) => {
        failed = reject;
        waiting.add(reject);
        job(desk).then(done, reject);
      });
      await nextTask();
      return ok(answer);
    } catch (error) {
      this.#end(worker);
      return refuse(
        `The search stopped: ${reasonOf(error)}. It starts anew with the next question.`,
      );
    } finally {
      if (failed !== undefined) waiting.delete(failed);
    }
  }

  #end(worker: Worker): void {
    worker.terminate();
    if (this.#running?.worker === worker) this.#forget();
  }

  #forget(): void {
    this.#running = undefined;
    this.#onfailure();
  }

  dispose(): void {
    this.#running?.worker.terminate();
    this.#forget();
  }
}
