/** The atlas last asked for. While a new one is made, the old one stays. */
import type { Result } from '$lib/result';
import type { Setup } from '$lib/setup/setup';
import type { Atlas } from '$lib/answers/atlas';
import type { Question } from '$lib/answers/question';

export interface AtlasSearching {
  atlas(
    setup: Setup,
    question: Question,
    neck: number,
    strings?: readonly number[],
  ): Promise<Result<Atlas, string>>;
}

export class AtlasSheet {
  readonly #search: AtlasSearching;
  #asked = 0;

  atlas = $state.raw<Atlas | undefined>();
  busy = $state(false);
  failure = $state<string | undefined>();

  constructor(search: AtlasSearching) {
    this.#search = search;
  }

  async ask(
    setup: Setup,
    question: Question,
    neck: number,
    strings?: readonly number[],
  ): Promise<void> {
    const number = ++this.#asked;
    this.busy = true;
    const answered = await this.#search.atlas(setup, question, neck, strings);
    if (number !== this.#asked) return;
    this.busy = false;
    this.failure = answered.ok ? undefined : answered.error;
    if (answered.ok) this.atlas = answered.value;
  }
}
