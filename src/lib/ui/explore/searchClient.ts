/** The page's side of the search worker. */
import type { Remote } from 'comlink';
import type { Result } from '$lib/result';
import type { Atlas } from '$lib/answers/atlas';
import type { QuestionTexts } from '$lib/answers/question';
import type { Setup } from '$lib/setup/setup';
import { DeskClient } from '$lib/ui/parts/deskClient';
import type { Findings, PositionRows, SearchDesk } from './searchDesk';

interface Asked {
  readonly setup: Setup;
  readonly question: string;
  readonly answer: Promise<Result<Findings, string>>;
}

export class SearchClient {
  readonly #client: DeskClient<SearchDesk>;
  #told: Setup | undefined;
  /** The question that the desk's answer is of. */
  #last: Asked | undefined;

  constructor(start: () => Worker) {
    this.#client = new DeskClient(start, () => {
      this.#told = undefined;
      this.#last = undefined;
    });
  }

  /** Starts the worker ahead of the first question. */
  begin(): void {
    this.#client.begin();
  }

  /** Tells the desk of a setup that it has not heard of. */
  #tell(desk: Remote<SearchDesk>, setup: Setup): void {
    // messages keep their order, so nobody has to wait for this one
    if (this.#told !== setup) void desk.use(setup);
    this.#told = setup;
  }

  /** The question asked last gets the answer it has got, or will get. */
  ask(setup: Setup, texts: QuestionTexts, most: number): Promise<Result<Findings, string>> {
    const question = JSON.stringify([texts, most]);
    const last = this.#last;
    if (last?.setup === setup && last.question === question && this.#told === setup)
      return last.answer;
    const answer = this.#client.ask(async (desk) => {
      this.#tell(desk, setup);
      return desk.ask(texts, most);
    });
    this.#last = { setup, question, answer };
    return answer;
  }

  async atlas(
    setup: Setup,
    texts: QuestionTexts,
    neck: number,
    strings?: readonly number[],
  ): Promise<Result<Atlas, string>> {
    return this.#client.ask(async (desk) => {
      this.#tell(desk, setup);
      return desk.atlas(texts, neck, strings);
    });
  }

  async more(from: number, most: number): Promise<Result<PositionRows[], string>> {
    return this.#client.ask((desk) => desk.more(from, most));
  }

  dispose(): void {
    this.#client.dispose();
  }
}
