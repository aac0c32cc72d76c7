/** A worker thread for songs as a measure: it is handed one song at a time. */
import { parentPort } from 'node:worker_threads';
import { answerSong, type SongTask } from './songTask';

parentPort?.on('message', (task: SongTask) => {
  parentPort?.postMessage(answerSong(task));
});
