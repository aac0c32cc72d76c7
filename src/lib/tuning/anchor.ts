/** The string that a tuning starts from. */
import { has, pcSetOf, transpose } from '$lib/theory/pcset';
import { chromaOf } from '$lib/theory/pitch';
import type { Neck } from '$lib/setup/setup';

const TRIADS = [pcSetOf([0, 4, 7]), pcSetOf([0, 3, 7])];

/**
 * The first string that has the root of the tuning's own chord: of the triad that most open strings
 * belong to, a major one before a minor one. It is the note that players give and take (E on E9).
 */
export function usualAnchor(neck: Neck): number {
  const chromas = neck.strings.map(({ open }) => chromaOf(open.midi));
  let most = 0;
  let anchor = 1;
  for (const triad of TRIADS)
    for (let root = 0; root < 12; root++) {
      const set = transpose(triad, root);
      const count = chromas.filter((chroma) => has(set, chroma)).length;
      const first = chromas.indexOf(root);
      if (count > most && first >= 0) {
        most = count;
        anchor = first + 1;
      }
    }
  return anchor;
}
