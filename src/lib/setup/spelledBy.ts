/** How a note is spelled where no chord and no key decide it: as the neck's own strings are. */
import { chromaOfName, noteName, type Chroma, type Letter, type NoteName } from '$lib/theory/pitch';
import { nameInKey, type Key } from '$lib/theory/spelling';
import { plainName } from '$lib/theory/toneNames';
import type { Neck } from './setup';

/** The notes with a plain neighbour on both sides, by their flat and their sharp. */
const FLATS = new Map<Chroma, Letter>([
  [1, 'D'],
  [3, 'E'],
  [6, 'G'],
  [8, 'A'],
  [10, 'B'],
]);
const SHARPS = new Map<Chroma, Letter>([
  [1, 'C'],
  [3, 'D'],
  [6, 'F'],
  [8, 'G'],
]);

/**
 * What no string of its own names: flats on a neck that has flats and no sharps. On one whose open strings
 * lie on the sharp side, with G♯ or C♯ among them and no flat, sharps, but for B♭, which players say of a
 * lowered B (common practice, from memory). Else the plainest.
 */
function nameBeside(open: readonly NoteName[]): (chroma: Chroma) => NoteName {
  const flat = open.some(({ alter }) => alter < 0);
  const sharp = open.some(({ alter }) => alter > 0);
  const far = open.some(({ letter, alter }) => alter > 0 && letter !== 'F');
  const letters = flat === sharp ? undefined : flat ? FLATS : far ? SHARPS : undefined;
  return (chroma) => {
    const letter = letters?.get(chroma);
    return letter === undefined ? plainName(chroma) : noteName(letter, flat ? -1 : 1);
  };
}

/** By the key where there is one, else by an open string of that pitch class, else as beside its open strings. */
export function spelledBy(neck: Neck | undefined, key?: Key): (chroma: Chroma) => NoteName {
  if (key !== undefined) return (chroma) => nameInKey(chroma, key);
  const own = new Map(
    (neck?.strings ?? []).map(({ open }) => [
      chromaOfName(open),
      noteName(open.letter, open.alter),
    ]),
  );
  const beside = nameBeside([...own.values()]);
  return (chroma) => own.get(chroma) ?? beside(chroma);
}
