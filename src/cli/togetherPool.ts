/** The hands of a search over several stations: worker threads, or this one where it is soon done. */
import { once } from 'node:events';
import { availableParallelism } from 'node:os';
import { Worker } from 'node:worker_threads';
import type { Setup } from '$lib/setup/setup';
import { unitsLeft, withBound, type Asked, type FoundTogether } from '$lib/coverage/foundTogether';
import type { CandidateRange } from '$lib/coverage/ranges';
import { TogetherWork } from '$lib/coverage/togetherWork';
import { together, type Together, type TogetherQuestion } from '$lib/coverage/together';

/** What every thread is given. */
export interface TogetherTask {
  readonly setup: Setup;
  readonly question: TogetherQuestion;
}

/** What a thread is asked: units, beside what is known; or the bound of each unit. */
export type TogetherPiece = { readonly range: CandidateRange; readonly known: Asked } | 'bounds';

/** Where the built worker lies beside the built command line. */
export const WORKER = new URL('gripwright-worker.mjs', import.meta.url);
/** A thread makes the search ready itself first; fewer choices than this are not worth it. */
const WORTH_A_THREAD = 20_000;

/** One that does pieces of the work. */
export interface Hand {
  within(range: CandidateRange, known: Asked): Promise<FoundTogether>;
  bounds(): Promise<Float64Array>;
  end(): Promise<unknown>;
}

/** A thread of its own, made ready when it is first asked. */
export function threadOf(task: TogetherTask): Hand {
  const worker = new Worker(WORKER, { workerData: task });
  const ask = async <T>(asked: TogetherPiece): Promise<T> => {
    const answer = once(worker, 'message');
    worker.postMessage(asked);
    return ((await answer) as [T])[0];
  };
  return {
    within: (range, known) => ask({ range, known }),
    bounds: () => ask('bounds'),
    end: () => worker.terminate(),
  };
}

/** This thread, which looks up between pieces. */
function hereOf(search: Together): Hand {
  const after = async <T>(act: () => T): Promise<T> => {
    await new Promise((done) => setImmediate(done));
    return act();
  };
  return {
    within: (range, known) => after(() => search.within(range, known)),
    bounds: () => after(() => search.bounds()),
    end: () => Promise.resolve(),
  };
}

/** What is told while it goes on. */
export interface Watching {
  /** Whenever a piece is done: all that was found, with the bound on what is left. */
  readonly onpart: (soFar: FoundTogether) => void;
  /** Ends the work, which is given back as far as it is. */
  readonly stop: AbortSignal;
}

/** The units that are asked for, but for those that were done before. */
export function unitsToDo(
  { units }: Pick<Together, 'units'>,
  range: CandidateRange,
  before: FoundTogether | undefined,
): CandidateRange[] {
  return unitsLeft(units, before?.ranges ?? []).flatMap(([from, to]): CandidateRange[] => {
    const [first, last] = [Math.max(from, range[0]), Math.min(to, range[1])];
    return first > last ? [] : [[first, last]];
  });
}

/**
 * Works through units, with as many threads as there are cores; to the end, or until it is stopped.
 *
 * @param before what was found of the question before
 */
export async function togetherWithThreads(
  task: TogetherTask,
  range: CandidateRange,
  before: FoundTogether | undefined,
  { onpart, stop }: Watching,
): Promise<FoundTogether | undefined> {
  const search = together(task.setup, task.question);
  const pieces = search.pieces(unitsToDo(search, range, before));
  if (pieces.length === 0) return before;
  const threads =
    search.candidates < WORTH_A_THREAD ? 1 : Math.min(availableParallelism(), pieces.length);
  const hands = Array.from({ length: threads }, () =>
    search.candidates < WORTH_A_THREAD ? hereOf(search) : threadOf(task),
  );
  let bounds: Float64Array | undefined;
  const work = new TogetherWork(
    pieces,
    (soFar) => {
      onpart(withBound(soFar, bounds));
    },
    before,
  );
  let stopped: () => void = () => undefined;
  const untilStopped = new Promise<void>((done) => {
    stopped = () => {
      work.stop();
      done();
    };
  });
  stop.addEventListener('abort', stopped);
  try {
    const run = work.run(threads, async (piece, known, hand) => {
      const part = await (hands[hand] as Hand).within(piece, known);
      if (bounds === undefined && hand === 0) bounds = await (hands[0] as Hand).bounds();
      return part;
    });
    await Promise.race([run, untilStopped]);
  } finally {
    stop.removeEventListener('abort', stopped);
    await Promise.all(hands.map((hand) => hand.end()));
  }
  return work.soFar === undefined ? undefined : withBound(work.soFar, bounds);
}
