/** Starts the search's worker; apart from its client, so that tests can hand in another. */
export const startSearch = (): Worker =>
  new Worker(new URL('./search.worker.ts', import.meta.url), { type: 'module', name: 'search' });
