/**
 * The altered dominant, `7alt`: root, third and minor seventh with any altered fifth and any altered
 * ninth. Which of them is left to who plays (common practice of jazz harmony; an independent reader of
 * symbols, chord-symbol, lists the same seven tones).
 */
import { chordNamed, type Chord } from './chord';
import { inDegreeOrder } from './degrees';
import { kindOf } from './kinds';
import { chromaOfName, type NoteName } from './pitch';

const EITHER_OF = [
  ['b5', '#5'],
  ['b9', '#9'],
] as const;
const DEGREES: readonly string[] = inDegreeOrder(['1', '3', 'b7', ...EITHER_OF.flat()]);

/** One of each, for formats in which a chord has fixed tones; the theory library's own `7alt`. */
const FIXED: readonly string[] = ['1', '3', '#5', 'b7', '#9'];

/** Are these the tones that `7alt` alone comes to, nothing added or left out? */
export const isPlainAltered = (degrees: readonly string[]): boolean =>
  degrees.join(' ') === FIXED.join(' ');

/** An altered dominant on a root. */
export function alteredChord(root: NoteName, bass?: NoteName): Chord {
  const { kind, degrees: kindDegrees } = kindOf(FIXED);
  const chord = chordNamed(root, { suffix: '7alt', degrees: DEGREES, kind, kindDegrees }, bass);
  const grouped: readonly string[] = EITHER_OF.flat();
  const lowest = bass && chromaOfName(bass);
  return {
    ...chord,
    tones: chord.tones.map((tone) =>
      grouped.includes(tone.degree) && tone.chroma !== lowest ? { ...tone, must: false } : tone,
    ),
    eitherOf: EITHER_OF,
  };
}
