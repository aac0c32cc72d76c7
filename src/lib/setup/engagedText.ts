/** How engaged controls are written and said: one way for the page and the command line. */
import type { Choice } from './reach';
import type { Engaged } from './setup';

/** `A+B`, `A+RKR½`; empty where nothing is engaged. */
export const engagedText = (engaged: Choice): string =>
  engaged.map(({ id, state }) => (state === 'half' ? `${id}½` : id)).join('+');

/** `A and B`, `A and RKR at its half-stop`, `nothing engaged`. */
export function engagedWords(engaged: Choice): string {
  const words = engaged.map(({ id, state }) => (state === 'half' ? `${id} at its half-stop` : id));
  const last = words.pop();
  if (last === undefined) return 'nothing engaged';
  return words.length === 0 ? last : `${words.join(', ')} and ${last}`;
}

/** One control as `readEngaged` takes it: `RKR:half`. */
export const controlCode = ({ id, state }: Engaged): string =>
  state === 'half' ? `${id}:half` : id;

/** As `readEngaged` takes it: `A,RKR:half`. */
export const engagedCode = (engaged: readonly Engaged[]): string =>
  engaged.map(controlCode).join(',');
