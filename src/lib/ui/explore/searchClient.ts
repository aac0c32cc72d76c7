/**
 * The page's side of the search worker. A worker that fails (it could not be loaded, it ran out of
 * memory, it met a bug) answers no more: what was asked is refused with a sentence instead of
 * waiting for ever, and the next question starts a new one.
 */
import { wrap, type Remote } from 'comlink';
import { ok, refuse, type Result } from '$lib/result';
import type { Atlas } from '$lib/effort/atlas';
import type { QuestionTexts } from '$lib/effort/question';
import type { Setup } from '$lib/setup/setup';
import type { Findings, PositionRows, SearchDesk } from './searchDesk';

interface Running {
  readonly worker: Worker;
  readonly desk: Remote<SearchDesk>;
  readonly failure: Promise<never>;
}

const reasonOf = (error: unknown): string =>
  error instanceof Error && error.message !== '' ? error.message : 'it gave no reason';

export class SearchClient {
  readonly #start: () => Worker;
  #running: Running | undefined;
  #told: Setup | undefined;

  constructor(start: () => Worker) {
    this.#start = start;
  }

  #run(): Running {
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
    this.#running = { worker, desk: wrap<SearchDesk>(worker), failure };
    return this.#running;
  }

  async #ask<T>(job: (desk: Remote<SearchDesk>) => Promise<T>): Promise<Result<T, string>> {
    const { worker, desk, failure } = this.#run();
    try {
      return ok(await Promise.race([job(desk), failure]));
    } catch (error) {
      worker.terminate();
      if (this.#running?.worker === worker) {
        this.#running = undefined;
        this.#told = undefined;
      }
      return refuse(
        `The search stopped: ${reasonOf(error)}. It starts anew with the next question.`,
      );
    }
  }

  /** Tells the desk of a setup that it has not heard of. */
  #tell(desk: Remote<SearchDesk>, setup: Setup): void {
    // messages keep their order, so nobody has to wait for this one
    if (this.#told !== setup) void desk.use(setup);
    this.#told = setup;
  }

  async ask(setup: Setup, texts: QuestionTexts, most: number): Promise<Result<Findings, string>> {
    return this.#ask(async (desk) => {
      this.#tell(desk, setup);
      return desk.ask(texts, most);
    });
  }

  async atlas(
    setup: Setup,
    texts: QuestionTexts,
    neck: number,
    strings?: readonly number[],
  ): Promise<Result<Atlas, string>> {
    return this.#ask(async (desk) => {
      this.#tell(desk, setup);
      return desk.atlas(texts, neck, strings);
    });
  }

  async more(from: number, most: number): Promise<Result<PositionRows[], string>> {
    return this.#ask((desk) => desk.more(from, most));
  }

  dispose(): void {
    this.#running?.worker.terminate();
    this.#running = undefined;
    this.#told = undefined;
  }
}
