/** How a target is named: on the page, and to a screen reader. */
import { prettyPitch, spokenPitch } from '$lib/theory/display';
import type { Setup } from '$lib/setup/setup';
import { tuningPitch } from '$lib/setup/tuningPitch';
import { stopShort, stopText } from '$lib/tuning/stopText';
import type { Stop } from '$lib/tuning/stops';

/** `G♯4` */
export function noteText(setup: Setup, { neck, midi }: Pick<Stop, 'neck' | 'midi'>): string {
  return prettyPitch(tuningPitch(setup.necks[neck - 1], midi));
}

/** `5 + A → C♯4`: the string, what is engaged, and the note to be tuned. */
export const leadText = (setup: Setup, stop: Stop): string =>
  `${stopShort(stop)} → ${noteText(setup, stop)}`;

export { controlText, stopText } from '$lib/tuning/stopText';

/** `String 3, open, G sharp 4`. */
export function stopWords(setup: Setup, stop: Stop): string {
  return `${stopText(stop)}, ${spokenPitch(tuningPitch(setup.necks[stop.neck - 1], stop.midi))}`;
}
