/** The key that counts at each measure of a piece: the one it is given, or found from its chords. */
import type { Chord } from '$lib/theory/chord';
import { chordSigns } from '$lib/theory/chordNumber';
import type { ChordSigns } from '$lib/theory/chordSigns';
import type { Key } from '$lib/theory/spelling';
import { keyOf } from './findKey';
import { orderOf } from './inOrder';
import type { Piece } from './piece';
import { asWritten } from './pieceOf';

/** By measure as it is written, from 0. */
export function keysOf(piece: Piece): Key[] {
  let now = piece.key ?? keyOf(asWritten(piece));
  return piece.measures.map(({ key }) => (now = key ?? now));
}

/** A chord of a measure as the reader wants it, in a line of words. */
export type NamedIn = (chord: Chord | 'no chord', measure: number) => string;

/** Names chords of measures as they are written, from 0: letters, numbers of the key that counts there, or both. */
export function namedIn(piece: Piece, signs: ChordSigns): NamedIn {
  const keys = keysOf(piece);
  const home = piece.key ?? keyOf(asWritten(piece));
  return (chord, measure) => chordSigns(chord, keys[measure] ?? home, signs).join(' ');
}

/** The same of measures in the order of playing. */
export function namedPlayed(piece: Piece, signs: ChordSigns): NamedIn {
  const named = namedIn(piece, signs);
  const { order } = orderOf(piece.measures);
  return (chord, measure) => named(chord, order[measure] ?? measure);
}
