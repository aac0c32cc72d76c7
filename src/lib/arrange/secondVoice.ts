/** The second voice below a tune: a third, a sixth or a tenth of the key's scale. */
import type { Chord } from '$lib/theory/chord';
import { LETTERS, chromaOf, chromaOfName, pitchOf, type Pitch } from '$lib/theory/pitch';
import { nameInKey, type Key } from '$lib/theory/spelling';
import type { Harmonized } from './texture';

/** Letters from the one voice down to the other, and the semitones that such an interval has. */
const INTERVALS: Readonly<Record<Harmonized, { letters: number; semitones: readonly number[] }>> = {
  thirds: { letters: 2, semitones: [3, 4] },
  sixths: { letters: 5, semitones: [8, 9] },
  tenths: { letters: 9, semitones: [15, 16] },
};

const SCALES = { major: [0, 2, 4, 5, 7, 9, 11], minor: [0, 2, 3, 5, 7, 8, 10] } as const;

/** Sharps or flats of a letter in the key's scale; the natural one in minor. */
export function alterIn(key: Key, letter: Pitch['letter']): number {
  const tonic = chromaOfName(key.tonic);
  const names = SCALES[key.mode].map((step) => nameInKey(chromaOf(tonic + step), key));
  return names.find((name) => name.letter === letter)?.alter ?? 0;
}

/**
 * The note below a note of the tune: its letter is that of the interval. It is the scale's, unless that is no
 * tone of the chord of the moment and the chord has its own with this letter (G♯ below B over E7 in A minor);
 * and where the interval would be none of its kind, for the tune has left the scale, the nearest that is.
 */
export function secondVoice(
  melody: Pitch,
  texture: Harmonized,
  key: Key,
  chord: Chord | undefined,
): Pitch {
  const { letters, semitones } = INTERVALS[texture];
  const step = LETTERS.indexOf(melody.letter) - letters;
  const letter = LETTERS[((step % 7) + 7) % 7] as Pitch['letter'];
  const octave = melody.octave + Math.floor(step / 7);
  const scale = alterIn(key, letter);
  const own = chord?.tones.filter(({ name }) => name.letter === letter) ?? [];
  const asked = own.some(({ name }) => name.alter === scale)
    ? scale
    : (own[0]?.name.alter ?? scale);
  const allowed = [-2, -1, 0, 1, 2].filter((alter) =>
    semitones.includes(melody.midi - pitchOf({ letter, alter }, octave).midi),
  );
  const nearest = (to: number): number =>
    allowed.reduce((best, each) => (Math.abs(each - to) < Math.abs(best - to) ? each : best));
  const alter = allowed.includes(asked) ? asked : nearest(scale);
  return pitchOf({ letter, alter }, octave);
}
