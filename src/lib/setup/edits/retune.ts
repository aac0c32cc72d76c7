/** An open string some semitones higher or lower, as players write it. */
import { chromaOf, pitchNamed, pitchOf, type Pitch } from '$lib/theory/pitch';
import { plainName } from '$lib/theory/toneNames';

/** By whole octaves the name stays; else the pitch gets its plainest name. */
export const retuned = (open: Pitch, semitones: number): Pitch =>
  semitones % 12 === 0
    ? pitchOf(open, open.octave + semitones / 12)
    : pitchNamed(plainName(chromaOf(open.midi + semitones)), open.midi + semitones);
