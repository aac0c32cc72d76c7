/** Starts the worker of Progression; apart from its client, so that tests can hand in another. */
export const startArrange = (): Worker =>
  new Worker(new URL('./arrange.worker.ts', import.meta.url), { type: 'module', name: 'arrange' });
