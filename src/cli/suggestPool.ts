/** Worker threads that share a range of candidates; whoever is done with a piece takes the next. */
import { once } from 'node:events';
import { availableParallelism } from 'node:os';
import { Worker } from 'node:worker_threads';
import type { Setup } from '$lib/setup/setup';
import {
  suggesting,
  type CandidateRange,
  type SuggestQuestion,
  type Suggestions,
} from '$lib/coverage/suggestion';
import { SuggestWork } from '$lib/coverage/suggestWork';
import { WORKER } from './togetherPool';

/** What every thread is given. */
export interface SuggestTask {
  readonly setup: Setup;
  readonly question: SuggestQuestion;
}

/** A piece of the work: what scores below `least` need not be told. */
export interface SuggestPiece {
  readonly range: CandidateRange;
  readonly least: number;
}

/** A thread has to search the setup itself first; fewer candidates than this are not worth it. */
const WORTH_A_THREAD = 2000;

/** Works through a range; told after every piece how many candidates are done. */
export async function suggestWithThreads(
  task: SuggestTask,
  range: CandidateRange,
  ondone: (soFar: Suggestions) => void,
): Promise<Suggestions> {
  const { setup, question } = task;
  const many = range[1] - range[0] + 1;
  const threads = Math.min(availableParallelism(), Math.ceil(many / WORTH_A_THREAD));
  if (threads <= 1) return suggesting(setup, question).within(range);

  const work = new SuggestWork(range, ondone);
  const workers = Array.from({ length: threads }, () => new Worker(WORKER, { workerData: task }));
  try {
    await work.run(threads, async (piece, least, hand) => {
      const worker = workers[hand] as Worker;
      const part = once(worker, 'message');
      worker.postMessage({ range: piece, least } satisfies SuggestPiece);
      const [found] = (await part) as [Suggestions];
      return found;
    });
  } finally {
    await Promise.all(workers.map((worker) => worker.terminate()));
  }
  if (work.soFar === undefined) throw new Error('no piece of the range was worked through');
  return work.soFar;
}
