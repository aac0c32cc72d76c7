/** What a search over several stations asks, plain data in, plain data out. */
import type { Setup } from '$lib/setup/setup';
import { compile } from '$lib/engine/instrument';
import { Cached } from '$lib/engine/memo';
import {
  unitsLeft,
  type Asked,
  type FoundTogether,
  type Picks,
  type ToldTogether,
} from '$lib/coverage/foundTogether';
import type { CandidateRange } from '$lib/coverage/ranges';
import { together, type Together, type TogetherQuestion } from '$lib/coverage/together';

// what all units of a question share takes longer to make than a piece of them
const SEARCHES = new Cached<Together>(1);

const searchOf = (setup: Setup, question: TogetherQuestion): Together =>
  compile(setup).once(SEARCHES, JSON.stringify(question), () => together(setup, question));

/** What there is to be done. */
export interface TogetherPlan {
  /** Tells questions apart. */
  readonly question: string;
  readonly candidates: number;
  readonly pieces: readonly CandidateRange[];
}

/** The work of a question, but for what was done of the same one before. */
export function planTogether(
  setup: Setup,
  question: TogetherQuestion,
  done?: Pick<FoundTogether, 'question' | 'ranges'>,
): TogetherPlan {
  const search = searchOf(setup, question);
  const ranges = done?.question === search.question ? done.ranges : [];
  return {
    question: search.question,
    candidates: search.candidates,
    pieces: search.pieces(unitsLeft(search.units, ranges)),
  };
}

/** What some units give, of what can still count beside what is known. */
export const withinTogether = (
  setup: Setup,
  question: TogetherQuestion,
  range: CandidateRange,
  known: Asked,
): FoundTogether => searchOf(setup, question).within(range, known);

/** By unit: no choice of it scores above this. */
export const boundsTogether = (setup: Setup, question: TogetherQuestion): Float64Array =>
  searchOf(setup, question).bounds();

/** What some choices are, in their order. */
export const toldTogether = (
  setup: Setup,
  question: TogetherQuestion,
  all: readonly Picks[],
): ToldTogether[] => all.map((picks) => searchOf(setup, question).told(picks));
