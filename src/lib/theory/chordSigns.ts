/** The ways of writing chords: by letters, by numbers, by Roman numerals. */

/** How chords are written above staff and tablature. */
export const CHORD_SIGNS = [
  'letters',
  'numbers',
  'numerals',
  'letters and numbers',
  'letters and numerals',
] as const;
/** One of these ways. */
export type ChordSigns = (typeof CHORD_SIGNS)[number];

/** The way of writing that a text names; letters where it names none. */
export const chordSignsIn = (text: string | undefined): ChordSigns =>
  CHORD_SIGNS.find((each) => each === text) ?? 'letters';
