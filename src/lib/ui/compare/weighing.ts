/** Compare's questions to the engine: entries are those of the setups weighed last. */
import type { Given } from '$lib/answers/door';
import type { WorkerPool } from '$lib/ui/worker/workerPool';
import type { Weighing } from './compare.svelte';

export function weighingOn(pool: Pick<WorkerPool, 'ask'>): Weighing {
  let weighed: Given<'weighPair'> | undefined;
  return {
    weigh(...given) {
      weighed = given;
      return pool.ask('weighPair', ...given);
    },
    entries: async (...given) =>
      weighed === undefined ? { ok: true, value: [] } : pool.ask('entries', ...weighed, ...given),
  };
}
