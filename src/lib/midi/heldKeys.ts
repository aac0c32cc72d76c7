/** What is held on a keyboard: keys that come and go as a chord, its text as it would be typed, and its name. */
import { chordOfNotes } from '$lib/theory/chordOfNotes';
import { namedPitches, type NamedPitches } from '$lib/theory/namedPitches';
import { chromaOf, pitchText, type Midi, type Pitch } from '$lib/theory/pitch';
import { nameInKey, type Key } from '$lib/theory/spelling';
import { plainName, spelled } from '$lib/theory/toneNames';
import type { KeyMove } from './message';

/** Keys that are down after one has moved, ascending. */
export const heldAfter = (held: readonly Midi[], { midi, isDown }: KeyMove): readonly Midi[] =>
  isDown
    ? [...new Set([...held, midi])].sort((a, b) => a - b)
    : held.filter((each) => each !== midi);

/** How a chord on a keyboard is meant: by exactly these pitches, by its name, or only to be named. */
const MEANINGS = ['pitches', 'name', 'told'] as const;
/** One of `MEANINGS`. */
export type Meaning = (typeof MEANINGS)[number];

/** What keys are called. */
export interface NamedKeys extends NamedPitches {
  /** Ascending, spelled. */
  readonly pitches: readonly Pitch[];
}

/** Names keys, ascending, and spells them as the chord that they are, else in the key. */
export function namedKeys(keys: readonly Midi[], key?: Key): NamedKeys {
  const named = namedPitches(keys, key === undefined ? {} : { key });
  const tones = named.names[0]?.tones ?? [];
  const otherwise = key === undefined ? plainName : (chroma: number) => nameInKey(chroma, key);
  return { ...named, pitches: keys.map((midi) => spelled(tones, midi, otherwise)) };
}

/** What would be typed into the field for a chord; `undefined` where the keys are no question. */
export function typedFor(keys: readonly Midi[], meaning: Meaning, key?: Key): string | undefined {
  if (meaning === 'told') return undefined;
  const { names, pitches } = namedKeys(keys, key);
  if (meaning === 'name') return names[0]?.symbol;
  const notes = pitches.map(pitchText).join(' ');
  return chordOfNotes(notes, key).ok ? notes : undefined;
}

/** Whether keys that are held answer what was asked. */
export type KeyAnswer = 'right' | 'wrong' | 'unfinished';

/**
 * Holds keys to what a card asks for: unfinished as long as none of them is wrong and some are missing.
 *
 * @param wanted the pitches
 * @param by whether the octaves count, or the notes alone
 */
export function answerOf(
  keys: readonly Midi[],
  wanted: readonly Midi[],
  by: 'pitches' | 'notes',
): KeyAnswer {
  const told = (midis: readonly Midi[]): ReadonlySet<number> =>
    new Set(by === 'pitches' ? midis : midis.map(chromaOf));
  const [played, asked] = [told(keys), told(wanted)];
  if ([...played].some((each) => !asked.has(each))) return 'wrong';
  return played.size === asked.size ? 'right' : 'unfinished';
}
