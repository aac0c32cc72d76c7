/** The page's side of the worker of Compare. */
import type { Result } from '$lib/result';
import type { ListName } from '$lib/coverage/compare';
import type { CoverageOptions } from '$lib/coverage/coverage';
import type { Repertoire } from '$lib/theory/repertoire';
import type { ComparedSound } from '$lib/coverage/soundLists';
import type { Setup } from '$lib/setup/setup';
import { DeskClient } from '$lib/ui/parts/deskClient';
import type { CompareDesk, Weighed } from './compareDesk';

export class CompareClient {
  readonly #client: DeskClient<CompareDesk>;

  constructor(start: () => Worker) {
    this.#client = new DeskClient(start);
  }

  weigh(
    a: Setup,
    b: Setup,
    repertoire: Repertoire,
    options: CoverageOptions,
  ): Promise<Result<Weighed, string>> {
    return this.#client.ask((desk) => desk.weigh(a, b, repertoire, options));
  }

  entries(
    name: ListName,
    from: number,
    most: number,
    type: string | undefined,
  ): Promise<Result<ComparedSound[], string>> {
    return this.#client.ask((desk) => desk.entries(name, from, most, type));
  }

  dispose(): void {
    this.#client.dispose();
  }
}
