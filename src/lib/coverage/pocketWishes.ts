/** What pockets are asked about. */
import { noteName } from '$lib/theory/pitch';
import type { Key } from '$lib/theory/spelling';

/** The key that pockets are told in where none is asked for. */
export const USUAL_KEY: Key = { tonic: noteName('C', 0), mode: 'major' };

/** Frets to either side that a pocket takes in. */
export const POCKET_WIDTHS = [0, 1, 2] as const;
export type PocketWidth = (typeof POCKET_WIDTHS)[number];
