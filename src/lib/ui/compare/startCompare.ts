/** Starts the worker of Compare; apart from its client, so that tests can hand in another. */
export const startCompare = (): Worker =>
  new Worker(new URL('./compare.worker.ts', import.meta.url), { type: 'module', name: 'compare' });
