/** Patterns of the right hand, by name. */

/**
 * *whole*: all strings at once; *rolled*: from the lowest to the highest; *beats*: again on each beat; *pad*:
 * softly, to swell; *chop*: short, chords on the back beats; *late*: after the beat; *bend*: struck before the
 * controls have done their work, and pulled into the note; *harmonic*: touched with the palm twelve frets beyond the
 * bar, an octave below what is written, so that it sounds as it is written; *twelfth* and *fifteenth*: the same seven
 * and five frets beyond, an octave and a fifth, and two octaves, below. Common practice of the trade.
 */
export const STRIKES = [
  'whole',
  'rolled',
  'beats',
  'pad',
  'chop',
  'late',
  'bend',
  'harmonic',
  'twelfth',
  'fifteenth',
] as const;
export type Strike = (typeof STRIKES)[number];
