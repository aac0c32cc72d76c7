/**
 * Every chord quality in 247 songs of the McGill Billboard annotations (J. A. Burgoyne, J. Wild,
 * I. Fujinaga, ISMIR 2011; CC0) has a symbol here. The file lies outside of the project. Labels are
 * Harte's: `root:shorthand(degrees)/bass`, `*` leaves a degree out.
 */
import { existsSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { chordOf } from '$lib/theory/chord';
import { degreeChroma } from '$lib/theory/degrees';
import { pcSetOf, transpose } from '$lib/theory/pcset';
import { chromaOfName, parseNoteName } from '$lib/theory/pitch';
import { readChord } from '$lib/theory/readChord';

const path = new URL('../../../shared/checks/progressions-billboard-cc0.json', import.meta.url);
const present = existsSync(path);
if (!present) console.log('skipped: ../shared/checks/progressions-billboard-cc0.json is absent');

/** Harte et al. 2005 and the later additions in mir_eval/chord.py; the root is implied. */
const SHORTHANDS: Readonly<Record<string, string>> = {
  '': '',
  '1': '',
  '5': '5',
  maj: '3 5',
  min: 'b3 5',
  dim: 'b3 b5',
  aug: '3 #5',
  maj7: '3 5 7',
  min7: 'b3 5 b7',
  '7': '3 5 b7',
  dim7: 'b3 b5 bb7',
  hdim7: 'b3 b5 b7',
  minmaj7: 'b3 5 7',
  maj6: '3 5 6',
  min6: 'b3 5 6',
  '9': '3 5 b7 9',
  maj9: '3 5 7 9',
  min9: 'b3 5 b7 9',
  '11': '3 5 b7 9 11',
  min11: 'b3 5 b7 9 11',
  '13': '3 5 b7 9 11 13',
  min13: 'b3 5 b7 9 11 13',
  sus2: '2 5',
  sus4: '4 5',
};

/** A slip in the data: the second half of a label whose first half is lost. */
const FAULTY = ['F:b3'];

const LABEL = /^([A-G][b#]*):([a-z0-9]*)(?:\(([^)]*)\))?(?:\/([b#]*\d+))?$/;

function degreesOf(label: string): { root: string; degrees: string[] } {
  const match = LABEL.exec(label);
  const shorthand = SHORTHANDS[match?.[2] ?? '-'];
  if (!match || shorthand === undefined) throw new Error(`not a Harte label: ${label}`);
  const extra = (match[3] ?? '').split(/[\s,]+/).filter(Boolean);
  const omitted = extra.filter((d) => d.startsWith('*')).map((d) => d.slice(1));
  const all = [
    '1',
    ...shorthand.split(' ').filter(Boolean),
    ...extra.filter((d) => !d.startsWith('*')),
  ];
  return { root: match[1] ?? '', degrees: all.filter((d) => !omitted.includes(d)) };
}

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
