/** The questions of a search over two stations to the engine. */
import type { WorkerPool } from '$lib/ui/worker/workerPool';
import type { TryingTogether } from './togetherRun.svelte';

export const tryingTogetherOn = (
  pool: Pick<WorkerPool, 'ask' | 'size' | 'stop'>,
): TryingTogether => ({
  // one is left for the questions of the page
  hands: pool.size - 1,
  plan: (...given) => pool.ask('planTogether', ...given),
  within: (...given) => pool.ask('withinTogether', ...given),
  bounds: (...given) => pool.ask('boundsTogether', ...given),
  told: (...given) => pool.ask('toldTogether', ...given),
  stop: () => pool.stop('withinTogether'),
});
