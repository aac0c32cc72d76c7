/** The chord that typed notes are, to be looked for as they stand. */
import { ok, refuse, type Result } from '$lib/result';
import type { Chord } from './chord';
import { namedPitches } from './namedPitches';
import { namesOf } from './names';
import { pcSetOf, sizeOf } from './pcset';
import { chromaOf, type Midi } from './pitch';
import { readChord } from './readChord';
import { readNotes, type NotesFault } from './readNotes';
import type { Key } from './spelling';

export interface TypedNotes {
  /** How many different notes there are. */
  readonly count: number;
  /** Ascending, where octaves were typed and exactly these pitches are meant. */
  readonly pitches?: readonly Midi[];
}

/** What the field for a chord holds: a symbol, or notes and the chord that they are. */
export interface TypedChord {
  readonly chord: Chord;
  readonly notes?: TypedNotes;
}

/**
 * Reads notes (`C E G C`, `C4 E4 Bb4 D5`) into the chord that they are called. A cluster or stack of
 * fourths has no chord’s name: its symbol are its notes.
 */
export function chordOfNotes(text: string, key?: Key): Result<TypedChord, NotesFault> {
  const read = readNotes(text);
  if (!read.ok) return refuse(read.error);
  const { pitches, exact } = read.value;
  const midis = [...new Set(pitches.map(({ midi }) => midi))].sort((a, b) => a - b);
  const set = pcSetOf(midis);
  if (sizeOf(set) < 2)
    return refuse({ found: `“${text.trim()}”`, allowed: 'two different notes or more' });
  const options = key === undefined ? {} : { key };
  const { names, interval } = namedPitches(midis, options);
  const [name] = names.length > 0 ? names : namesOf(set, chromaOf(midis[0] ?? 0), options);
  const chord = readChord(name?.symbol ?? '');
  if (!chord.ok || chord.value === 'no chord')
    throw new Error(`No chord is read from the name of “${text}”.`);
  const symbol = names[0]?.symbol ?? interval?.replace(/^.*: | \(.*$/g, '') ?? '';
  return ok({
    chord: { ...chord.value, symbol },
    notes: { count: exact ? midis.length : sizeOf(set), ...(exact ? { pitches: midis } : {}) },
  });
}
