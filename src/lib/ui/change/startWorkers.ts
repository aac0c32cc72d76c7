/** Starts the page's workers; apart from those who talk to them, so that tests can hand in others. */
export const startChange = (): Worker =>
  new Worker(new URL('./change.worker.ts', import.meta.url), { type: 'module', name: 'change' });

export const startSuggest = (): Worker =>
  new Worker(new URL('./suggest.worker.ts', import.meta.url), { type: 'module', name: 'suggest' });
