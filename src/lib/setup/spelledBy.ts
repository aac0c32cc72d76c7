/** How a note is spelled where no chord and no key decide it: as the neck's own strings are. */
import { chromaOfName, noteName, type Chroma, type NoteName } from '$lib/theory/pitch';
import { nameInKey, type Key } from '$lib/theory/spelling';
import { plainName } from '$lib/theory/toneNames';
import type { Neck } from './setup';

/** By the key where there is one, else by an open string of that pitch class, else the plainest. */
export function spelledBy(neck: Neck | undefined, key?: Key): (chroma: Chroma) => NoteName {
  if (key !== undefined) return (chroma) => nameInKey(chroma, key);
  const own = new Map(
    (neck?.strings ?? []).map(({ open }) => [
      chromaOfName(open),
      noteName(open.letter, open.alter),
    ]),
  );
  return (chroma) => own.get(chroma) ?? plainName(chroma);
}
