/**
 * Pitches and how they are written: scientific pitch notation (C4 = middle C = MIDI 60),
 * letters with sharps and flats. Everything else in the program counts in MIDI numbers.
 */

/** A pitch class, 0 (C) to 11 (B). */
export type Chroma = number;
/** A pitch in semitones, middle C = 60. */
export type Midi = number;

/** The letters of notes from C upwards, as octaves are counted. */
export const LETTERS = ['C', 'D', 'E', 'F', 'G', 'A', 'B'] as const;
export type Letter = (typeof LETTERS)[number];

const LETTER_CHROMA: Readonly<Record<Letter, Chroma>> = {
  C: 0,
  D: 2,
  E: 4,
  F: 5,
  G: 7,
  A: 9,
  B: 11,
};

/** A written pitch class: a letter and −2 … 2 semitones of alteration. */
export interface NoteName {
  readonly letter: Letter;
  /** Semitones: 1 is a sharp, −1 a flat, ±2 the double ones. */
  readonly alter: number;
}

/** A written pitch: a note name in an octave. */
export interface Pitch extends NoteName {
  readonly octave: number;
  readonly midi: Midi;
}

/** The pitch class of any whole number of semitones, below 0 too; so also how far it is above an octave. */
export const chromaOf = (semitones: number): Chroma => ((semitones % 12) + 12) % 12;

/** A written pitch class: `alter` is −2 … 2, semitones that sharps raise and flats lower. */
export const noteName = (letter: Letter, alter: number): NoteName => ({ letter, alter });

/** The pitch class that a name sounds: E♯ and F are both 5, C♭ is 11. */
export const chromaOfName = (name: NoteName): Chroma =>
  chromaOf(LETTER_CHROMA[name.letter] + name.alter);

/** The same letter in an octave. B♯3 and C4 sound the same, and are written in different octaves. */
export function pitchOf(name: NoteName, octave: number): Pitch {
  const midi = 12 * (octave + 1) + LETTER_CHROMA[name.letter] + name.alter;
  return { letter: name.letter, alter: name.alter, octave, midi };
}

/** Writes a sounding pitch with the given letter and alteration, in the octave that fits. */
export function pitchNamed(name: NoteName, midi: Midi): Pitch {
  const octave = Math.round((midi - LETTER_CHROMA[name.letter] - name.alter) / 12) - 1;
  return pitchOf(name, octave);
}

const ACCIDENTALS: Readonly<Record<string, number>> = {
  '': 0,
  '#': 1,
  '♯': 1,
  '##': 2,
  '♯♯': 2,
  x: 2,
  '𝄪': 2,
  b: -1,
  '♭': -1,
  bb: -2,
  '♭♭': -2,
  '𝄫': -2,
};

/** Reads a note name such as `C`, `F#`, `E♭`, `Bbb`; `undefined` where it is none. */
export function parseNoteName(text: string): NoteName | undefined {
  const match = /^([A-Ga-g])(##?|♯♯?|x|𝄪|bb?|♭♭?|𝄫)?$/u.exec(text.trim());
  if (!match) return undefined;
  const letter = (match[1] ?? '').toUpperCase() as Letter;
  const alter = ACCIDENTALS[match[2] ?? ''];
  return alter === undefined ? undefined : { letter, alter };
}

/** Reads a pitch such as `F#4` or `B♭2`; `undefined` where it is none or outside MIDI 0 … 127. */
export function parsePitch(text: string): Pitch | undefined {
  const match = /^(.*?)(-?\d)$/u.exec(text.trim());
  if (!match) return undefined;
  const name = parseNoteName(match[1] ?? '');
  if (!name) return undefined;
  const pitch = pitchOf(name, Number(match[2]));
  return pitch.midi >= 0 && pitch.midi <= 127 ? pitch : undefined;
}

const ascii = (alter: number): string => (alter < 0 ? 'b'.repeat(-alter) : '#'.repeat(alter));

/** A note name in plain letters, as files and the command line write it: `F#`, `Bb`. */
export const nameText = (name: NoteName): string => name.letter + ascii(name.alter);

/** A pitch in plain letters: `F#4`. */
export const pitchText = (pitch: Pitch): string => nameText(pitch) + String(pitch.octave);

/** Frequency in hertz in equal temperament: f = ref · 2^((m − 69) / 12), A4 = 69 (ISO 16). */
export const hzOf = (midi: number, referenceHz = 440): number =>
  referenceHz * 2 ** ((midi - 69) / 12);
