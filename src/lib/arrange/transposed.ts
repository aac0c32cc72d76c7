/** A piece in another key. */
import { chordOf, type Chord } from '$lib/theory/chord';
import { chromaOf, chromaOfName, pitchNamed, type NoteName } from '$lib/theory/pitch';
import { commonRoot, fifthsBetween, movedByFifths } from '$lib/theory/spelling';
import { keyOf } from './findKey';
import { isPitch, withSlots, type Progression } from './progression';

/** A chord on another root, its bass moved along. */
function moved(chord: Chord, move: (name: NoteName) => NoteName): Chord {
  const degrees = chord.tones.filter(({ role }) => role !== 'bass').map(({ degree }) => degree);
  return chordOf(move(chord.root), degrees, chord.bass && move(chord.bass));
}

/** Moved by semitones and along the line of fifths, which must mean the same. */
function shifted(progression: Progression, semitones: number, fifths: number): Progression {
  const move = (name: NoteName): NoteName => movedByFifths(name, fifths);
  const { key } = progression;
  const slots = withSlots(progression, ({ chord, melody, ...slot }) => ({
    ...slot,
    chord: chord === 'no chord' ? chord : moved(chord, move),
    ...(melody === undefined
      ? {}
      : {
          melody: isPitch(melody)
            ? pitchNamed(move(melody), melody.midi + semitones)
            : move(melody),
        }),
  }));
  return key === undefined ? slots : { ...slots, key: { ...key, tonic: move(key.tonic) } };
}

/** Moved to a key of the same mode, the nearest way, downwards at most by five semitones. */
export function transposedTo(progression: Progression, tonic: NoteName): Progression {
  const from = keyOf(progression).tonic;
  const up = chromaOf(chromaOfName(tonic) - chromaOfName(from));
  return shifted(progression, up > 6 ? up - 12 : up, fifthsBetween(from, tonic));
}

/** Moved by semitones, spelled in the key where that leads, as that key is usually written. */
export function transposed(progression: Progression, semitones: number): Progression {
  if (semitones === 0) return progression;
  const { tonic, mode } = keyOf(progression);
  const to = commonRoot(chromaOf(chromaOfName(tonic) + semitones), mode === 'minor' ? 'm' : '');
  return shifted(progression, semitones, fifthsBetween(tonic, to));
}
