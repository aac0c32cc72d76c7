/** Worker threads that share a range of candidates; whoever is done with a piece takes the next. */
import { availableParallelism } from 'node:os';
import { Worker } from 'node:worker_threads';
import type { Setup } from '$lib/setup/setup';
import {
  joinSuggestions,
  piecesOf,
  suggesting,
  type CandidateRange,
  type SuggestQuestion,
  type Suggestions,
} from '$lib/coverage/suggestion';

export interface SuggestTask {
  readonly setup: Setup;
  readonly question: SuggestQuestion;
}

/** Where the built worker lies beside the built command line. */
const WORKER = new URL('gripwright-worker.mjs', import.meta.url);
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

  const pieces = piecesOf(range);
  let next = 0;
  let soFar: Suggestions | undefined;
  const work = (): Promise<void> =>
    new Promise((resolve, reject) => {
      const worker = new Worker(WORKER, { workerData: task });
      const hand = (): void => {
        const piece = pieces[next++];
        if (piece === undefined) {
          void worker.terminate();
          resolve();
        } else worker.postMessage(piece);
      };
      worker.on('message', (part: Suggestions) => {
        soFar = soFar === undefined ? part : joinSuggestions([soFar, part]);
        ondone(soFar);
        hand();
      });
      worker.on('error', reject);
      hand();
    });
  await Promise.all(Array.from({ length: threads }, work));
  if (soFar === undefined) throw new Error('no piece of the range was worked through');
  return soFar;
}
