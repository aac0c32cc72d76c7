/** The pool of the page, made when it is first asked for. */
import { WorkerPool } from './workerPool';

const start = (): Worker =>
  new Worker(new URL('./answers.worker.ts', import.meta.url), { type: 'module', name: 'engine' });

/** One for each core and one core left for the page, but two at least: a search must not keep a question waiting. */
const workersFor = (cores: number): number => Math.max(2, cores - 1);

let pool: WorkerPool | undefined;

export const enginePool = (): WorkerPool =>
  (pool ??= new WorkerPool(
    start,
    workersFor(typeof navigator === 'undefined' ? 1 : navigator.hardwareConcurrency),
  ));
