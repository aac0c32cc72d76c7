import { BOUNDS } from '../bounds';
import type { Setup } from '../setup';

/** A setup under a name of its own, with a word more; where the name has no room for it, under the same. */
export function copied(setup: Setup, word = 'copy'): Setup {
  const name = `${setup.name}, ${word}`;
  return name.length > BOUNDS.name[1] ? setup : { ...setup, name };
}
