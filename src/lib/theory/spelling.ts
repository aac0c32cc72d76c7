/**
 * Which letter a pitch class gets: by the key where there is one, else by habit.
 */
import type { DocumentFault } from '$lib/faults';
import { fault } from '$lib/keyFaults';
import { refuse, ok, type Result } from '$lib/result';
import { chromaOf, chromaOfName, nameText, noteName, parseNoteName } from './pitch';
import type { Chroma, Letter, NoteName } from './pitch';

const named = (names: string): readonly NoteName[] =>
  names.split(' ').map((name) => parseNoteName(name) ?? noteName('C', 0));

const MAJOR_LIKE = named('C Db D Eb E F F# G Ab A Bb B');
const MINOR_LIKE = named('C C# D Eb E F F# G G# A Bb B');

/** Types with a minor third, by canonical suffix (`maj7` is none). */
const isMinorLike = (type: string): boolean => /^(m(?!aj)|dim)/.test(type);

/**
 * Types with a minor third and a lowered fifth. On E flat that fifth is a B double flat, in a key that no
 * one writes; as a leading note's chord, or the second of C sharp minor, it is D sharp's, and all plain. The
 * diminished seventh has a double flat on many roots, and E flat's is a passing chord of the flat keys.
 */
const isHalfDiminished = (type: string): boolean => /^(m\d*b5|dim(?!7))/.test(type);
const D_SHARP = noteName('D', 1);

/**
 * A root's usual spelling under a type (canonical suffix): D flat major, but C sharp minor, and D sharp
 * half-diminished.
 */
export function commonRoot(chroma: Chroma, type: string): NoteName {
  if (chromaOf(chroma) === chromaOfName(D_SHARP) && isHalfDiminished(type)) return D_SHARP;
  const name = (isMinorLike(type) ? MINOR_LIKE : MAJOR_LIKE)[chromaOf(chroma)];
  if (!name) throw new Error(`A pitch class 0 … 11 was expected, not ${String(chroma)}.`);
  return name;
}

export interface Key {
  readonly tonic: NoteName;
  readonly mode: 'major' | 'minor';
}

/** Letters along the line of fifths; each step of seven adds a sharp. */
const FIFTHS: readonly Letter[] = ['F', 'C', 'G', 'D', 'A', 'E', 'B'];

/** Position on the line of fifths: C is 0, G 1, F −1, F sharp 6. */
const fifthOf = (name: NoteName): number => FIFTHS.indexOf(name.letter) - 1 + 7 * name.alter;

function nameAtFifth(fifths: number): NoteName {
  const turn = Math.floor((fifths + 1) / 7);
  return noteName(FIFTHS[fifths + 1 - 7 * turn] ?? 'C', turn);
}

/** Sharps of the key signature; flats are negative. */
const signatureOf = (key: Key): number => fifthOf(key.tonic) - (key.mode === 'minor' ? 3 : 0);

/** Can a signature of at most seven sharps or flats say it? */
export const isWritable = (key: Key): boolean => Math.abs(signatureOf(key)) <= 7;

/** Pitch classes of a major scale above its tonic. */
const IN_MAJOR: readonly Chroma[] = [0, 2, 4, 5, 7, 9, 11];

const KEY = /^\s*([A-Ga-g](?:##?|♯♯?|bb?|♭♭?)?)\s*(major|maj|minor|min|m|M)?\s*$/u;

/** `Eb`, `E♭ major`, `Cm`, `F# minor`; `undefined` for others and for more than seven sharps or flats. */
export function parseKey(text: string): Key | undefined {
  const match = KEY.exec(text);
  const tonic = match ? parseNoteName(match[1] ?? '') : undefined;
  if (!match || !tonic) return undefined;
  const key: Key = { tonic, mode: /^m(?!aj)/.test(match[2] ?? '') ? 'minor' : 'major' };
  return isWritable(key) ? key : undefined;
}

/** The same, with the fault of what is no key. */
export function readKey(text: string): Result<Key, DocumentFault> {
  const key = parseKey(text);
  return key === undefined ? refuse(fault('tonality.unreadable', '', text)) : ok(key);
}

/** `Eb`, `Cm`: as `readKey` takes it. */
export const keyText = (key: Key): string =>
  nameText(key.tonic) + (key.mode === 'minor' ? 'm' : '');

/**
 * The name a pitch class has in a key: the twelve neighbours of the tonic on the line of fifths,
 * from the lowered second to the raised fourth (in E flat it is A flat, not G sharp). In minor the
 * window lies three fifths further up from the relative major, so that the raised sixth and seventh
 * are in it: in A minor it is G sharp.
 */
export function nameInKey(chroma: Chroma, key: Key): NoteName {
  const lowest = signatureOf(key) + (key.mode === 'minor' ? -3 : -5);
  // Seven is its own inverse modulo 12: the fifth at position p has chroma 7p, so p is 7 · chroma.
  return nameAtFifth(lowest + chromaOf(7 * chroma - lowest));
}

/**
 * The name of a chord's root in a key. A diminished or half-diminished chord between two degrees of a major
 * scale leads to the upper one, as its leading note does, so it is the lower degree raised: in C it is C♯°
 * before D minor, not D♭° (any textbook of harmony). A sharp that is another letter's natural stays as
 * habit has it: in E it is F°.
 */
export function rootInKey(chroma: Chroma, type: string, key: Key): NoteName {
  const plain = nameInKey(chroma, key);
  const isLeading = /^(dim|m7b5|m9b5)/.test(type) && key.mode === 'major' && plain.alter < 1;
  if (!isLeading || IN_MAJOR.includes(chromaOf(chroma - chromaOfName(key.tonic)))) return plain;
  const below = nameInKey(chroma - 1, key);
  const raised = noteName(below.letter, below.alter + 1);
  return raised.alter > 1 || (/[EB]/.test(raised.letter) && raised.alter === 1) ? plain : raised;
}

/**
 * A name moved along the line of fifths, so that every interval keeps its letters: by 2 what stood in
 * C stands in D. Where that would take three sharps or flats the usual spelling stands in.
 */
export function movedByFifths(name: NoteName, fifths: number): NoteName {
  const moved = nameAtFifth(fifthOf(name) + fifths);
  return Math.abs(moved.alter) <= 2 ? moved : commonRoot(chromaOfName(moved), '');
}

/** Fifths from one name to another: 1 from C to G, −3 from C to E flat. */
export const fifthsBetween = (from: NoteName, to: NoteName): number => fifthOf(to) - fifthOf(from);
