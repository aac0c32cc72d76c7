/** Chords of a lesson in one spelling: in the key of the neck's open chord, wherever the bar lies. */
import { chordOf, type Chord } from '$lib/theory/chord';
import { typeWithSuffix } from '$lib/theory/chordTypes';
import { chromaOf, type Chroma } from '$lib/theory/pitch';
import { commonRoot, rootInKey, type Key } from '$lib/theory/spelling';
import type { Yardstick } from './yardstick';

/** The key of an open chord, told by its root at the nut, with the bar at a fret. */
export const keyOn = (tonic: Chroma, fret: number): Key => ({
  tonic: commonRoot(chromaOf(tonic + fret), ''),
  mode: 'major',
});

/** A chord type on a root at the nut, as it sounds with the bar at a fret, spelled in a key. */
export function rootedChord(suffix: string, root: number, fret: number, key: Key): Chord {
  return chordOf(
    rootInKey(chromaOf(root + fret), suffix, key),
    typeWithSuffix(suffix)?.degrees ?? [],
  );
}

/** The chord of a chord number with the bar at a fret, spelled in a key. */
export const chordInKey = (by: Yardstick, chordNumber: number, fret: number, key: Key): Chord =>
  rootedChord(by.types[Math.floor(chordNumber / 12)] ?? '', chordNumber, fret, key);
