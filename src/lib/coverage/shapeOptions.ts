import { slantsByDefault, USUAL_SIZES } from '$lib/search/nutIndex';
import type { Setup } from '$lib/setup/setup';

/** Which grips and slants are looked at. */
export interface ShapeOptions {
  /** Fewest and most strings of a grip. */
  readonly sizes: readonly [number, number];
  readonly slants: boolean;
}

/** What a change is looked at with where nothing else is said: grips of three and four strings. */
export const usualShapes = (setup: Setup): ShapeOptions => ({
  sizes: USUAL_SIZES,
  // as before the change: a lever more does not take the slants from a setup without pedals
  slants: slantsByDefault(setup),
});
