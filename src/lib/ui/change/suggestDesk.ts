/** What a worker of the search for pulls does: one question, then ranges of its candidates. */
import type { Setup } from '$lib/setup/setup';
import {
  suggesting,
  type CandidateRange,
  type Suggesting,
  type SuggestQuestion,
  type Suggestions,
} from '$lib/coverage/suggestion';

export class SuggestDesk {
  #search: Suggesting | undefined;

  prepare(setup: Setup, question: SuggestQuestion): void {
    this.#search = suggesting(setup, question);
  }

  within(range: CandidateRange): Suggestions {
    if (this.#search === undefined) throw new Error('a range before a question');
    return this.#search.within(range);
  }
}
