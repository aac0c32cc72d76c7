/** What a search for pulls asks: a range of its candidates, plain data in, plain data out. */
import type { Setup } from '$lib/setup/setup';
import { compile } from '$lib/engine/instrument';
import { Cached } from '$lib/engine/memo';
import {
  suggesting,
  type CandidateRange,
  type Suggesting,
  type SuggestQuestion,
  type Suggestions,
} from '$lib/coverage/suggestion';

// what all candidates of a question share takes longer to make than a piece of them
const SEARCHES = new Cached<Suggesting>(1);

/** What a range of candidates gives, but for those that score below `least`. */
export const within = (
  setup: Setup,
  question: SuggestQuestion,
  range: CandidateRange,
  least?: number,
): Suggestions =>
  compile(setup)
    .once(SEARCHES, JSON.stringify(question), () => suggesting(setup, question))
    .within(range, least);
