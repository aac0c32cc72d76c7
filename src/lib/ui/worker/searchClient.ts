/** Explore's questions to the engine. */
import type { Result } from '$lib/result';
import type { Atlas } from '$lib/answers/atlas';
import type { Findings, PositionRows } from '$lib/answers/explore';
import type { Asked, Question } from '$lib/answers/question';
import type { Setup } from '$lib/setup/setup';
import type { WorkerPool } from './workerPool';

/** What was asked last, of which setup, and its answer. */
interface Last {
  readonly setup: Setup;
  readonly asked: Asked;
  /** All that the answer depends on beside the setup. */
  readonly code: string;
  readonly answer: Promise<Result<Findings, string>>;
}

export class SearchClient {
  readonly #pool: WorkerPool;
  #last: Last | undefined;

  constructor(pool: WorkerPool) {
    this.#pool = pool;
  }

  /** Starts a worker ahead of the first question. */
  begin(): void {
    this.#pool.begin();
  }

  /** The question asked last gets the answer it has got, or will get. */
  ask(setup: Setup, asked: Asked, most: number): Promise<Result<Findings, string>> {
    const code = JSON.stringify([asked.texts, most]);
    const last = this.#last;
    if (last?.setup === setup && last.code === code) return last.answer;
    const answer = this.#pool.ask('find', setup, asked, most);
    const now: Last = { setup, asked, code, answer };
    this.#last = now;
    // what failed is asked anew
    void answer.then((told) => {
      if (!told.ok && this.#last === now) this.#last = undefined;
    });
    return answer;
  }

  atlas(
    setup: Setup,
    question: Question,
    neck: number,
    strings?: readonly number[],
  ): Promise<Result<Atlas, string>> {
    return this.#pool.ask('atlas', setup, question, neck, strings);
  }

  /** Further positions of the question asked last. */
  async more(from: number, most: number): Promise<Result<PositionRows[], string>> {
    const last = this.#last;
    return last === undefined
      ? { ok: true, value: [] }
      : this.#pool.ask('more', last.setup, last.asked, from, most);
  }
}
