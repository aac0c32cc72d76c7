/** What of an accompaniment has a level of its own, and how loud each is by it. */
import { BAND_PARTS } from './band';

/** The band's parts, and a drone. */
export const LEVELLED = [...BAND_PARTS, 'drone'] as const;
/** One of `LEVELLED`. */
export type Levelled = (typeof LEVELLED)[number];
/** 0 … 1 each, as sliders stand; 0 is silent. */
export type Levels = Readonly<Record<Levelled, number>>;

/** Where the sliders stand that nobody has touched. */
export const USUAL_LEVEL = 0.7;
