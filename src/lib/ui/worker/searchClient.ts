/** Explore's questions to the engine. */
import type { Result } from '$lib/result';
import type { Atlas } from '$lib/answers/atlas';
import type { Findings, PositionRows } from '$lib/answers/explore';
import type { QuestionTexts } from '$lib/answers/question';
import type { Setup } from '$lib/setup/setup';
import type { WorkerPool } from './workerPool';

interface Asked {
  readonly setup: Setup;
  readonly texts: QuestionTexts;
  readonly question: string;
  readonly answer: Promise<Result<Findings, string>>;
}

export class SearchClient {
  readonly #pool: WorkerPool;
  #last: Asked | undefined;

  constructor(pool: WorkerPool) {
    this.#pool = pool;
  }

  /** Starts a worker ahead of the first question. */
  begin(): void {
    this.#pool.begin();
  }

  /** The question asked last gets the answer it has got, or will get. */
  ask(setup: Setup, texts: QuestionTexts, most: number): Promise<Result<Findings, string>> {
    const question = JSON.stringify([texts, most]);
    const last = this.#last;
    if (last?.setup === setup && last.question === question) return last.answer;
    const answer = this.#pool.ask('find', setup, texts, most);
    const asked: Asked = { setup, texts, question, answer };
    this.#last = asked;
    // what failed is asked anew
    void answer.then((told) => {
      if (!told.ok && this.#last === asked) this.#last = undefined;
    });
    return answer;
  }

  atlas(
    setup: Setup,
    texts: QuestionTexts,
    neck: number,
    strings?: readonly number[],
  ): Promise<Result<Atlas, string>> {
    return this.#pool.ask('atlas', setup, texts, neck, strings);
  }

  /** Further positions of the question asked last. */
  async more(from: number, most: number): Promise<Result<PositionRows[], string>> {
    const last = this.#last;
    return last === undefined
      ? { ok: true, value: [] }
      : this.#pool.ask('more', last.setup, last.texts, from, most);
  }
}
