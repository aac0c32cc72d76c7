/** Change's questions to the engine. */
import type { WorkerPool } from '$lib/ui/worker/workerPool';
import type { Weighing } from './changeAnswer.svelte';
import type { Trying } from './suggestRun.svelte';

export const weighingOn = (pool: Pick<WorkerPool, 'ask'>): Weighing => ({
  weigh: (...given) => pool.ask('weigh', ...given),
  picture: (...given) => pool.ask('picture', ...given),
  rows: (...given) => pool.ask('rows', ...given),
  lesson: (...given) => pool.ask('lesson', ...given),
});

export const tryingOn = (pool: Pick<WorkerPool, 'ask' | 'size' | 'stop'>): Trying => ({
  // one is left for the questions of the page
  hands: pool.size - 1,
  within: (...given) => pool.ask('within', ...given),
  stop: () => pool.stop('within'),
});
