/** A drone: a note or a chord that sounds throughout, to tune and to hear intervals by. */
import { ok, refuse, type Result } from '$lib/result';
import { chromaOf, chromaOfName, parseNoteName, parsePitch } from '$lib/theory/pitch';
import { chordFaultText, readChord } from '$lib/theory/readChord';
import { voiced } from './comping';

/** C2: a note without an octave sounds from here up, and an octave higher with it. */
const LOW = 36;
/** C1 to C6. */
const RANGE = [24, 84] as const;

/**
 * The MIDI numbers of what is typed: a note (`E`, with its octave above), one with its octave (`E2`), or a chord
 * (`Em`, `Emaj`, `C/E`). Nothing where nothing is typed; refused with a sentence where it is none of these.
 */
export function droneOf(text: string): Result<readonly number[], string> {
  const typed = text.trim();
  if (typed === '') return ok([]);
  const pitch = parsePitch(typed);
  if (pitch !== undefined) {
    if (pitch.midi >= RANGE[0] && pitch.midi <= RANGE[1]) return ok([pitch.midi]);
    return refuse(`A drone lies from C1 to C6; found “${typed}”.`);
  }
  const low = (chroma: number): number => LOW + chromaOf(chroma - LOW);
  const name = parseNoteName(typed);
  if (name !== undefined) {
    const midi = low(chromaOfName(name));
    return ok([midi, midi + 12]);
  }
  const chord = readChord(typed);
  if (!chord.ok) return refuse(chordFaultText(chord.error));
  if (chord.value === 'no chord') return ok([]);
  return ok([low(chromaOfName(chord.value.bass ?? chord.value.root)), ...voiced(chord.value, [])]);
}
