/** What is kept of a search on the server, and under which names. */
import type { CandidateRange } from '$lib/coverage/ranges';
import type { Setup } from '$lib/setup/setup';
import type { TogetherQuestion } from '$lib/coverage/together';
import { PREFIX } from './server';

/** The names that one search has on the server. */
export const keysOf = (question: string) => ({
  /** Its setup and question, once for all ranges. */
  task: `${PREFIX}:task:${question}`,
  /** What the best so far ask of those that come. */
  asked: `${PREFIX}:asked:${question}`,
  /** By range: what it gave. A range is laid down once, whoever worked through it and however often. */
  found: `${PREFIX}:found:${question}`,
  /** There where the search was stopped. */
  stop: `${PREFIX}:stop:${question}`,
});

/** By question: what searches are under way. */
export const SEARCHES = `${PREFIX}:searches`;
/** Workers as “version number”, by the second in which they were last there. */
export const WORKERS = `${PREFIX}:workers`;
/** A worker that was silent for so many seconds is gone. */
export const GONE_SECONDS = 30;
/** What nobody comes back for is forgotten after a week. */
export const KEPT_SECONDS = 7 * 86_400;

/** One range as a job. */
export interface RangeJob {
  readonly question: string;
  readonly version: string;
  readonly range: CandidateRange;
}

/** What ranges belong to. */
export interface KeptTask {
  readonly setup: Setup;
  readonly question: TogetherQuestion;
}

/** One search in the list of searches. */
export interface ListedSearch {
  readonly version: string;
  readonly setup: string;
  readonly stations: readonly string[];
  readonly ranges: number;
  readonly done: number;
  readonly choices: number;
  readonly best?: number | undefined;
  readonly left?: number | undefined;
}

/** A range as the name of its result. */
export const rangeKey = ([first, last]: CandidateRange): string => `${first}-${last}`;
/** The name of its job: the same range is added once. */
export const jobId = (question: string, range: CandidateRange): string =>
  `${question}-${rangeKey(range)}`;
