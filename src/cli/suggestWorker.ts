/** A worker thread of `gripwright suggest`: it is handed ranges of candidates, one at a time. */
import { parentPort, workerData } from 'node:worker_threads';
import { suggesting, type CandidateRange } from '$lib/coverage/suggestion';
import type { SuggestTask } from './suggestPool';

const { setup, question } = workerData as SuggestTask;
const search = suggesting(setup, question);

parentPort?.on('message', (range: CandidateRange) => {
  parentPort?.postMessage(search.within(range));
});
