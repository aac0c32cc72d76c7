/**
 * The scales that are offered, against the theory library as it is asked by name, and against sources that know nothing
 * of it: steps as textbooks give them, the modes that LilyPond is installed with, and the numbers of pitch-class sets in
 * A. Forte's table as it is published.
 */
import { existsSync, readFileSync, readdirSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { Note, Scale as Dictionary } from 'tonal';
import { degreeChroma } from '$lib/theory/degrees';
import { chromasIn } from '$lib/theory/pcset';
import { USUAL_SCALES, readScale, scaleTypeNamed } from '$lib/theory/scales';

const LILYPOND = '/usr/share/lilypond';
const definitions = existsSync(LILYPOND)
  ? readdirSync(LILYPOND)
      .map((version) => `${LILYPOND}/${version}/ly/scale-definitions-init.ly`)
      .find((file) => existsSync(file))
  : undefined;

if (definitions === undefined) console.log('skipped: LilyPond is not installed');

const chromasOf = (name: string): number[] =>
  (scaleTypeNamed(name)?.degrees ?? []).map(degreeChroma).sort((a, b) => a - b);

/**
 * Semitones from note to note, from the root to its octave. The modes and both minors as V. Persichetti, Twentieth-Century
 * Harmony (1961), chapter 2, and M. Levine, The Jazz Theory Book (1995), chapters 3 and 9 to 10, give them; the blues
 * scales are the minor pentatonic with a lowered fifth and the major one with a lowered third. From memory of these books.
 */
const STEPS: Readonly<Record<(typeof USUAL_SCALES)[number], string>> = {
  major: '2212221',
  minor: '2122122',
  mixolydian: '2212212',
  dorian: '2122212',
  lydian: '2221221',
  phrygian: '1222122',
  locrian: '1221222',
  'major pentatonic': '22323',
  'minor pentatonic': '32232',
  'major blues': '211323',
  'minor blues': '321132',
  'harmonic minor': '2122131',
  'melodic minor': '2122221',
  'lydian dominant': '2221212',
  altered: '1212222',
  'whole tone': '222222',
  diminished: '21212121',
  'half-whole diminished': '12121212',
};

const notesOf = (steps: string): number[] => {
  let at = 0;
  return [0, ...[...steps].slice(0, -1).map((step) => (at += Number(step)))];
};

describe('every scale that is offered', () => {
  it.each(USUAL_SCALES)('%s has the steps that textbooks give it', (name) => {
    expect([...STEPS[name]].reduce((sum, step) => sum + Number(step), 0)).toBe(12);
    expect(chromasOf(name)).toEqual(notesOf(STEPS[name]));
  });

  it.each(['C', 'F#', 'Eb'])('has the notes of the theory library on %s', (root) => {
    const all = USUAL_SCALES.map((name) => {
      const read = readScale(`${root} ${name}`);
      const own = read.ok ? read.value.tones.map(({ chroma }) => chroma) : [];
      return [name, own];
    });
    const library = USUAL_SCALES.map((name) => [
      name,
      Dictionary.get(`${root} ${name}`).notes.map((note) => Note.chroma(note)),
    ]);
    expect(all).toEqual(library);
  });
});

/** By name: steps of a scale as LilyPond writes them, each with what it is raised or lowered by. */
function modes(file: string): Map<string, number[]> {
  const MAJOR = [0, 2, 4, 5, 7, 9, 11];
  const found = new Map<string, number[]>();
  for (const [, name = '', body = ''] of readFileSync(file, 'utf8').matchAll(
    /^([a-z]+) = #`\((.*?)\n *\)\n/gmsu,
  )) {
    const steps = [...body.matchAll(/\((\d) \. (0|,FLAT|,SHARP)\)/gu)];
    found.set(
      name,
      steps.map(
        ([, step, by]) =>
          (MAJOR[Number(step)] ?? NaN) + (by === ',FLAT' ? -1 : by === ',SHARP' ? 1 : 0),
      ),
    );
  }
  return found;
}

describe('scales of seven notes', () => {
  it.skipIf(definitions === undefined)('are those that LilyPond defines', () => {
    const found = modes(definitions ?? '');
    for (const name of ['major', 'minor', 'locrian', 'mixolydian', 'lydian', 'phrygian', 'dorian'])
      expect(chromasOf(name), name).toEqual(found.get(name));
    for (const name of ['ionian', 'aeolian'])
      expect(chromasOf(name), name).toEqual(found.get(name));
  });
});

/** As theory books number them (Forte's numbers of named scales, from memory; the table of sets is from outside). */
const NUMBERS: Readonly<Record<(typeof USUAL_SCALES)[number], string>> = {
  major: '7-35',
  minor: '7-35',
  mixolydian: '7-35',
  dorian: '7-35',
  lydian: '7-35',
  phrygian: '7-35',
  locrian: '7-35',
  'major pentatonic': '5-35',
  'minor pentatonic': '5-35',
  'major blues': '6-Z47',
  'minor blues': '6-Z47',
  'harmonic minor': '7-32',
  'melodic minor': '7-34',
  'lydian dominant': '7-34',
  altered: '7-34',
  'whole tone': '6-35',
  diminished: '8-28',
  'half-whole diminished': '8-28',
};

const SETS = new URL('../../../shared/checks/set-classes.json', import.meta.url);

if (!existsSync(SETS)) console.log('skipped: ../shared/checks/set-classes.json is absent');

describe('the pitch classes of every scale', () => {
  it.skipIf(!existsSync(SETS))('is of the set that theory books number it by', () => {
    const { rows } = JSON.parse(readFileSync(SETS, 'utf8')) as {
      rows: readonly { forte: string; prime: readonly number[] }[];
    };
    for (const name of USUAL_SCALES) {
      const set = scaleTypeNamed(name)?.set ?? 0;
      const own = chromasIn(set).join();
      const row = rows.find(
        ({ forte }) => forte.replace('Z', '') === NUMBERS[name].replace('Z', ''),
      );
      // all twelve transpositions of the set and of its mirror
      const all = Array.from({ length: 12 }, (_, by) => by).flatMap((by) =>
        [1, -1].map((way) =>
          (row?.prime ?? [])
            .map((chroma) => (((way * chroma + by) % 12) + 12) % 12)
            .sort((a, b) => a - b)
            .join(),
        ),
      );
      expect(all, name).toContain(own);
    }
  });
});
