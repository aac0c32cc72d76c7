/** What a sheet's code does not carry, as sentences beside it. */

/** What the link of a piece does not hold. */
export const namedAlone = (setup: string): string =>
  `The setup “${setup}” is not in it: its own bench sheet carries it.`;
/** What the link of a setup does not hold of a book. */
export const BOOK_BEYOND =
  'The choice of chords is not in it: the book is made anew from the setup.';
/** What the link of a tune does not hold where a code on paper has no room for it. */
export const CHORDS_ALONE = 'It has the chords of the piece alone, and not its notes and words.';
/** The same of a ladder or a run. */
export const STEPS_BEYOND =
  'The notes on this sheet are not in it: they are found anew on the setup.';
