/**
 * Every chord quality in 247 songs of the McGill Billboard annotations (J. A. Burgoyne, J. Wild,
 * I. Fujinaga, ISMIR 2011; CC0) has a symbol here. The file lies outside of the project. Labels are
 * Harte's: `root:shorthand(degrees)/bass`, `*` leaves a degree out.
 */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { chordOf } from '$lib/theory/chord';
import { degreeChroma } from '$lib/theory/degrees';
import { pcSetOf, transpose } from '$lib/theory/pcset';
import { chromaOfName, parseNoteName } from '$lib/theory/pitch';
import { readChord } from '$lib/theory/readChord';
import { FAULTY, degreesOf, path, present } from './billboard';

describe.skipIf(!present)('chords of songs', () => {
  it('can all be written and read back', () => {
    const text = readFileSync(path, 'utf8');
    // A label may hold a space in its brackets, so they are found in the text as a whole.
    const labels = new Set(text.match(/\b[A-G][b#]*:[a-z0-9]*(?:\([^)"]*\))?(?:\/[b#]*\d+)?/g));
    let written = 0;
    for (const label of labels) {
      if (FAULTY.includes(label)) continue;
      const { root, degrees } = degreesOf(label);
      if (degrees.length < 2) continue; // a single tone is no chord
      const name = parseNoteName(root);
      if (!name) throw new Error(label);
      const set = transpose(pcSetOf(degrees.map(degreeChroma)), chromaOfName(name));
      const chord = chordOf(name, degrees);
      const read = readChord(chord.symbol);
      if (!read.ok || read.value === 'no chord') throw new Error(`${label}: ${chord.symbol}`);
      expect(chord.pitchClasses, label).toBe(set);
      expect(read.value.pitchClasses, label).toBe(set);
      expect(read.value.symbol, label).toBe(chord.symbol);
      written++;
    }
    console.log(`songs: ${written} different labels written as symbols`);
    expect(written).toBeGreaterThan(50);
  });
});
