/** A piece in another key. */
import { chordOf, type Chord } from '$lib/theory/chord';
import { chromaOf, chromaOfName, pitchNamed, type NoteName } from '$lib/theory/pitch';
import { commonRoot, fifthsBetween, movedByFifths, type Key } from '$lib/theory/spelling';
import { keyOf } from './findKey';
import type { Piece } from './piece';
import { progressionOf } from './pieceOf';
import { isPitch, withSlots, type MelodyNote, type Progression } from './progression';

/** A chord on another root, its bass moved along. */
function moved(chord: Chord, move: (name: NoteName) => NoteName): Chord {
  const degrees = chord.tones.filter(({ role }) => role !== 'bass').map(({ degree }) => degree);
  return chordOf(move(chord.root), degrees, chord.bass && move(chord.bass));
}

/** The tonic so many semitones higher, as that key is usually written. */
const tonicAbove = ({ tonic, mode }: Key, semitones: number): NoteName =>
  commonRoot(chromaOf(chromaOfName(tonic) + semitones), mode === 'minor' ? 'm' : '');

const movedNote = (
  note: MelodyNote,
  move: (name: NoteName) => NoteName,
  semitones: number,
): MelodyNote => (isPitch(note) ? pitchNamed(move(note), note.midi + semitones) : move(note));

/** Moved by semitones and along the line of fifths, which must mean the same. */
function shifted(progression: Progression, semitones: number, fifths: number): Progression {
  const move = (name: NoteName): NoteName => movedByFifths(name, fifths);
  const { key } = progression;
  const slots = withSlots(progression, ({ chord, melody, ...slot }) => ({
    ...slot,
    chord: chord === 'no chord' ? chord : moved(chord, move),
    ...(melody === undefined ? {} : { melody: movedNote(melody, move, semitones) }),
  }));
  return key === undefined ? slots : { ...slots, key: { ...key, tonic: move(key.tonic) } };
}

/** The fewest fifths that are so many semitones. */
export const nearestFifths = (semitones: number): number => {
  const up = chromaOf(semitones * 7);
  return up > 6 ? up - 12 : up;
};

/** A piece as it is written, by semitones and along the line of fifths, which must mean the same. */
function shiftedPiece(piece: Piece, semitones: number, fifths: number): Piece {
  const move = (name: NoteName): NoteName => movedByFifths(name, fifths);
  const inKey = (key: Key): Key => ({ ...key, tonic: move(key.tonic) });
  return {
    ...piece,
    ...(piece.key === undefined ? {} : { key: inKey(piece.key) }),
    measures: piece.measures.map((measure) => ({
      ...measure,
      ...(measure.key === undefined ? {} : { key: inKey(measure.key) }),
      chords: measure.chords.map(({ chord, ...change }) => ({
        ...change,
        chord: chord === 'no chord' ? chord : moved(chord, move),
      })),
      notes: measure.notes.map(({ pitch, ...note }) => ({
        ...note,
        pitch: pitch === 'rest' ? pitch : movedNote(pitch, move, semitones),
      })),
    })),
  };
}

/** A piece as it is written, by semitones, spelled as `transposed` spells what is played of it. */
export function transposedPiece(piece: Piece, semitones: number): Piece {
  if (semitones === 0) return piece;
  const from = keyOf(progressionOf(piece));
  return shiftedPiece(piece, semitones, fifthsBetween(from.tonic, tonicAbove(from, semitones)));
}

/** A piece as it is written in another key, as `transposedTo` moves what is played of it. */
export function transposedPieceTo(piece: Piece, tonic: NoteName): Piece {
  const from = keyOf(progressionOf(piece)).tonic;
  const up = chromaOf(chromaOfName(tonic) - chromaOfName(from));
  return shiftedPiece(piece, up > 6 ? up - 12 : up, fifthsBetween(from, tonic));
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
  const from = keyOf(progression);
  return shifted(progression, semitones, fifthsBetween(from.tonic, tonicAbove(from, semitones)));
}
