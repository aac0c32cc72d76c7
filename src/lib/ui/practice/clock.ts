/** The time, as the device has it. */

/** The time, and when the player's day began, in milliseconds since 1970. */
export interface Clock {
  now(): number;
  dayBegan(now: number): number;
}

export const DEVICE_CLOCK: Clock = {
  now: () => Date.now(),
  dayBegan: (now) => new Date(now).setHours(0, 0, 0, 0),
};

/** What a round is called in the history: `round of 2 March, 6:00:00 PM`. */
export function roundLabel(began: number): string {
  const when = new Date(began);
  const day = when.toLocaleDateString('en', { day: 'numeric', month: 'long' });
  return `round of ${day}, ${when.toLocaleTimeString('en')}`;
}
