/** What something that was thrown says of itself, to go into a sentence; without a full stop of its own. */
export const reasonOf = (error: unknown): string =>
  (error instanceof Error ? error.message.replace(/\.$/u, '') : '') || 'it gave no reason';
