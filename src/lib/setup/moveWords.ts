/** A move of a string in words: `raised 2 semitones`, `lowered 1 semitone`; of any distance but 0. */
export const moveWords = (semitones: number): string =>
  `${semitones > 0 ? 'raised' : 'lowered'} ${semitonesWords(semitones)}`;

/** A distance in words, whichever way: `1 semitone`, `2 semitones`. */
export const semitonesWords = (semitones: number): string => {
  const size = Math.abs(semitones);
  return `${size} ${size === 1 ? 'semitone' : 'semitones'}`;
};
