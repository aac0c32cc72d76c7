/** Notes as people type them, low to high: `C E G C`, or with octaves, `C4 E4 Bb4 D5`. */
import { ok, refuse, type Result } from '$lib/result';
import { chromaOf, parseNoteName, parsePitch, pitchNamed, pitchOf, type Pitch } from './pitch';

export interface Notes {
  /** As typed; where no octave is, each is the nearest above the one before, the first in octave 4. */
  readonly pitches: readonly Pitch[];
  /** Every note has its octave, so that exactly these pitches are meant. */
  readonly exact: boolean;
}

export interface NotesFault {
  readonly found: string;
  readonly allowed: string;
}

const ALLOWED = 'two or more notes, such as C E G, or all with octaves, such as C4 E4 G4';
const MOST = 12;

const words = (text: string): string[] => text.split(/[\s,]+/u).filter(Boolean);

/**
 * Does a text look like notes rather than a chord: two words or more, all of them notes with octaves, or
 * all without? Octaves from 7 on are higher than any string is played: `A7 D7` are two chords.
 */
export const looksLikeNotes = (text: string): boolean => {
  const typed = words(text);
  const isPitch = (word: string): boolean => (parsePitch(word)?.octave ?? 7) < 7;
  return (
    typed.length >= 2 &&
    (typed.every(isPitch) || typed.every((word) => parseNoteName(word) !== undefined))
  );
};

/** Reads two to twelve notes, all with octaves or none. */
export function readNotes(text: string): Result<Notes, NotesFault> {
  const typed = words(text);
  const exact = typed.every((word) => parsePitch(word) !== undefined);
  const pitches: Pitch[] = [];
  for (const word of typed) {
    const pitch = exact ? parsePitch(word) : above(word, pitches.at(-1));
    if (pitch === undefined) return refuse({ found: word, allowed: ALLOWED });
    pitches.push(pitch);
  }
  if (pitches.length < 2 || pitches.length > MOST || pitches.some(({ midi }) => midi > 127))
    return refuse({ found: text.trim(), allowed: ALLOWED });
  return ok({ pitches, exact });
}

function above(word: string, before: Pitch | undefined): Pitch | undefined {
  const name = parseNoteName(word);
  if (name === undefined) return undefined;
  const inOctave4 = pitchOf(name, 4);
  if (before === undefined) return inOctave4;
  return pitchNamed(name, before.midi + 1 + chromaOf(inOctave4.midi - before.midi - 1));
}
