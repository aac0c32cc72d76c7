/**
 * The key found from chords alone, against the tonic that trained listeners wrote down for 247 songs:
 * McGill Billboard annotations (J. A. Burgoyne, J. Wild, I. Fujinaga, ISMIR 2011; CC0). The file lies
 * outside of the project.
 */
import { describe, expect, it } from 'vitest';
import { chromaOfName, parseNoteName } from '$lib/theory/pitch';
import { keyOf } from '$lib/arrange/findKey';
import { present, songs } from './billboard';

describe.skipIf(!present)('the key of a song', () => {
  it('has the tonic that listeners hear, as a rule', () => {
    const all = songs().filter(({ modulates }) => !modulates);
    const right = all.filter(({ tonic, progression }) => {
      const name = parseNoteName(tonic);
      return name && chromaOfName(keyOf(progression).tonic) === chromaOfName(name);
    });
    console.log(`keys: ${right.length} of ${all.length} songs have the annotated tonic`);
    expect(right.length / all.length).toBeGreaterThan(0.8);
  });
});
