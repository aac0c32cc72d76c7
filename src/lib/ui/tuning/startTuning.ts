/** Starts the tuning page's worker; apart from its client, so that tests can hand in another. */
export const startTuning = (): Worker =>
  new Worker(new URL('./tune.worker.ts', import.meta.url), { type: 'module', name: 'tuning' });
