/** The page's side of the search worker. */
import type { Result } from '$lib/result';
import type { QuestionTexts } from '$lib/effort/question';
import type { Setup } from '$lib/setup/setup';
import { DeskClient } from '$lib/ui/parts/deskClient';
import type { Findings, PositionRows, SearchDesk } from './searchDesk';

export class SearchClient {
  readonly #client: DeskClient<SearchDesk>;
  #told: Setup | undefined;

  constructor(start: () => Worker) {
    this.#client = new DeskClient(start, () => {
      this.#told = undefined;
    });
  }

  async ask(setup: Setup, texts: QuestionTexts, most: number): Promise<Result<Findings, string>> {
    return this.#client.ask(async (desk) => {
      // messages keep their order, so nobody has to wait for the first
      if (this.#told !== setup) void desk.use(setup);
      this.#told = setup;
      return desk.ask(texts, most);
    });
  }

  async more(from: number, most: number): Promise<Result<PositionRows[], string>> {
    return this.#client.ask((desk) => desk.more(from, most));
  }

  dispose(): void {
    this.#client.dispose();
  }
}
