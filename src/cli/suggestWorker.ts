/** A worker thread of `gripwright suggest`: it is handed ranges of candidates, one at a time. */
import { parentPort, workerData } from 'node:worker_threads';
import { suggesting } from '$lib/coverage/suggestion';
import type { SuggestPiece, SuggestTask } from './suggestPool';

const { setup, question } = workerData as SuggestTask;
const search = suggesting(setup, question);

parentPort?.on('message', ({ range, least }: SuggestPiece) => {
  parentPort?.postMessage(search.within(range, least));
});
