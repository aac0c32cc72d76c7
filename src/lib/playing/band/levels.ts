/** What of an accompaniment has a level of its own, and how loud each is by it. */
import { BAND_PARTS, type BandNote } from './band';

/** The band's parts, and a drone. */
export const LEVELLED = [...BAND_PARTS, 'drone'] as const;
/** One of `LEVELLED`. */
export type Levelled = (typeof LEVELLED)[number];
/** 0 … 1 each, as sliders stand; 0 is silent. */
export type Levels = Readonly<Record<Levelled, number>>;

/** Where the sliders stand that nobody has touched. */
export const USUAL_LEVEL = 0.7;

/**
 * A band's notes for a file, as loud as the sliders stand: where nobody has touched them, as they are. The ear
 * counts in ratios, so a slider's steps go by the square. What is for practice alone, the click, is left out.
 */
export const atLevels = (notes: readonly BandNote[], levels: Levels): BandNote[] =>
  notes.flatMap((note) => {
    const { part } = note;
    if (part === 'click' || part === 'count' || levels[part] === 0) return [];
    return [{ ...note, level: note.level * (levels[part] / USUAL_LEVEL) ** 2 }];
  });
