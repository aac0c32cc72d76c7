/** When something was done, in the player's own language and time: `3 May 2026, 14:20`. */
const FORMAT = new Intl.DateTimeFormat(undefined, { dateStyle: 'medium', timeStyle: 'short' });

export const whenText = (at: number): string => FORMAT.format(at);
