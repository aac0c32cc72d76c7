/** The page's side of the worker of Progression. */
import type { Arrangement } from '$lib/arrange/arrange';
import type { OnePull } from '$lib/arrange/onePull';
import type { Progression, Step } from '$lib/arrange/progression';
import type { Wishes } from '$lib/arrange/wishes';
import type { Result } from '$lib/result';
import type { Setup } from '$lib/setup/setup';
import { DeskClient } from '$lib/ui/parts/deskClient';
import type { ArrangeDesk } from './arrangeDesk';

export class ArrangeClient {
  readonly #client: DeskClient<ArrangeDesk>;

  constructor(start: () => Worker) {
    this.#client = new DeskClient(start);
  }

  arrange(
    setup: Setup,
    progression: Progression,
    wishes: Wishes,
    most: number,
  ): Promise<Result<Arrangement, string>> {
    return this.#client.ask((desk) => desk.arrange(setup, progression, wishes, most));
  }

  onePull(
    setup: Setup,
    wishes: Wishes,
    step: Step,
    place: number,
  ): Promise<Result<OnePull[], string>> {
    return this.#client.ask((desk) => desk.onePull(setup, wishes, step, place));
  }

  dispose(): void {
    this.#client.dispose();
  }
}
