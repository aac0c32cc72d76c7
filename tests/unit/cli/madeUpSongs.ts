/** Twelve songs of eight measures, made up: plain ones, ones with raised fifths, with chains of dominants, with minor subdominants. */
export const MADE_UP_SONGS = [
  'C | Am | F | G | C | Em | F G | C',
  'G | G7 | C | Cm | G | D7 | G | D7',
  'A | E | F#m | D | A | E | D | A',
  'E | Eaug | A | Am | E | B7 | E | B7',
  'Dm7 | G7 | Cmaj7 | A7 | Dm7 | G7 | C6 | C6',
  'F | Faug | Bb | Bbm | F | C7 | F | C7',
  'D | Bm | G | A7 | D | F#7 | Bm | A7',
  'Bb | Gm7 | Cm7 | F7 | Bb | D7 | Gm | F7',
  'C | Cdim | Dm7 | G7 | C | C7 | F | Fm',
  'G | Bm | C | Cm6 | G | Em | A7 | D7',
  'E | G#m | A | Am | E | C#7 | F#7 | B7',
  'A | A7 | D | Dm | A | F#7 | B7 | E7',
] as const;
