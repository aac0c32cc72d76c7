/** A worker thread of `gripwright suggest`: it is handed ranges of candidates or units, one at a time. */
import { parentPort, workerData } from 'node:worker_threads';
import { suggesting } from '$lib/coverage/suggestion';
import { together } from '$lib/coverage/together';
import type { SuggestPiece, SuggestTask } from './suggestPool';
import type { TogetherPiece, TogetherTask } from './togetherPool';

const task = workerData as SuggestTask | TogetherTask;

if ('places' in task.question) {
  const search = together(task.setup, task.question);
  parentPort?.on('message', (asked: TogetherPiece) => {
    parentPort?.postMessage(
      asked === 'bounds' ? search.bounds() : search.within(asked.range, asked.known),
    );
  });
} else {
  const search = suggesting(task.setup, task.question);
  parentPort?.on('message', ({ range, least }: SuggestPiece) => {
    parentPort?.postMessage(search.within(range, least));
  });
}
