/** Starts the Bench's worker; apart from its client, so that tests can hand in another. */
export const startBench = (): Worker =>
  new Worker(new URL('./bench.worker.ts', import.meta.url), { type: 'module', name: 'bench' });
