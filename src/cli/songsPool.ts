/** Worker threads that arrange songs; whoever is done with one takes the next. */
import { once } from 'node:events';
import { availableParallelism } from 'node:os';
import { Worker } from 'node:worker_threads';
import { answerSong, type SongAnswer, type SongTask } from './songTask';

/** Where the built worker lies beside the built command line. */
const WORKER = new URL('gripwright-songs.mjs', import.meta.url);
/** A thread searches the setups itself; fewer chords than this are not worth one more. */
const WORTH_A_THREAD = 80;

/** Threads that answer tasks; none where there is little to do. */
export class SongThreads {
  readonly #workers: readonly Worker[];

  /** @param chords how many there are to be arranged in all tasks together */
  constructor(chords: number) {
    const threads = Math.min(availableParallelism(), Math.floor(chords / WORTH_A_THREAD));
    this.#workers = threads <= 1 ? [] : Array.from({ length: threads }, () => new Worker(WORKER));
  }

  /**
   * Answers tasks in any order and gives the answers in theirs.
   *
   * @param ondone told after every answer how many there are
   */
  async answer<T extends SongTask>(
    tasks: readonly T[],
    ondone: (done: number, answers: readonly SongAnswer<T>[]) => void = () => undefined,
  ): Promise<SongAnswer<T>[]> {
    const answers: SongAnswer<T>[] = [];
    let [next, done] = [0, 0];
    const work = async (worker?: Worker): Promise<void> => {
      while (next < tasks.length) {
        const at = next++;
        const task = tasks[at] as T;
        answers[at] = (await (worker === undefined
          ? answerSong(task)
          : askOf(worker, task))) as SongAnswer<T>;
        ondone(
          ++done,
          answers.filter((each) => each !== undefined),
        );
      }
    };
    await Promise.all(this.#workers.length === 0 ? [work()] : this.#workers.map(work));
    return answers;
  }

  async end(): Promise<void> {
    await Promise.all(this.#workers.map((worker) => worker.terminate()));
  }
}

async function askOf(worker: Worker, task: SongTask): Promise<unknown> {
  const answered = once(worker, 'message');
  worker.postMessage(task);
  return ((await answered) as [unknown])[0];
}
