/** How a target is named: on the page, and to a screen reader. */
import { prettyPitch, spokenPitch } from '$lib/theory/display';
import type { Setup } from '$lib/setup/setup';
import { tuningPitch } from '$lib/setup/tuningPitch';
import type { Stop } from '$lib/tuning/stops';

/** `G♯4` */
export function noteText(setup: Setup, { neck, midi }: Pick<Stop, 'neck' | 'midi'>): string {
  return prettyPitch(tuningPitch(setup.necks[neck - 1], midi));
}

/** `open`, `A`, `RKR at its half-stop`. */
export const controlText = ({ control, state }: Pick<Stop, 'control' | 'state'>): string =>
  control === null ? 'open' : state === 'half' ? `${control} at its half-stop` : control;

/** `String 5 with A`, `String 3, open`. */
export const stopText = (stop: Pick<Stop, 'string' | 'control' | 'state'>): string =>
  stop.control === null
    ? `String ${stop.string}, open`
    : `String ${stop.string} with ${controlText(stop)}`;

/** `String 3, open, G sharp 4`. */
export function stopWords(setup: Setup, stop: Stop): string {
  return `${stopText(stop)}, ${spokenPitch(tuningPitch(setup.necks[stop.neck - 1], stop.midi))}`;
}
