/**
 * Counts and prime forms of pitch-class sets: A. Forte, The Structure of Atonal Music (1973).
 * Counts by size as in athenaCL, appendix G; the table of prime forms lies outside of the project.
 */
import { existsSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { namedPitches } from '$lib/theory/namedPitches';
import { chromasIn, sizeOf, transpose, type PcSet } from '$lib/theory/pcset';

const TRANSPOSED = [1, 1, 6, 19, 43, 66, 80, 66, 43, 19, 6, 1, 1];
const INVERTED_TOO = [1, 1, 6, 12, 29, 38, 50, 38, 29, 12, 6, 1, 1];

const TURNS = Array.from({ length: 12 }, (_, semitones) => semitones);

/** Every chroma c becomes −c. */
function inverted(set: PcSet): PcSet {
  let turned = 0;
  for (const chroma of chromasIn(set)) turned |= 1 << ((12 - chroma) % 12);
  return turned;
}

const forms = (set: PcSet): PcSet[] => TURNS.map((semitones) => transpose(set, semitones));

function countBySize(classOf: (set: PcSet) => PcSet): number[] {
  const counts = new Array<number>(13).fill(0);
  for (let set = 0; set < 4096; set++) {
    if (classOf(set) === set) counts[sizeOf(set)] = (counts[sizeOf(set)] ?? 0) + 1;
  }
  return counts;
}

describe('pitch-class sets', () => {
  it('fall into 352 classes under transposition', () => {
    const counts = countBySize((set) => Math.min(...forms(set)));
    expect(counts).toEqual(TRANSPOSED);
    expect(counts.reduce((sum, count) => sum + count)).toBe(352);
  });

  it('fall into 224 classes under transposition and inversion', () => {
    const counts = countBySize((set) => Math.min(...forms(set), ...forms(inverted(set))));
    expect(counts).toEqual(INVERTED_TOO);
    expect(counts.reduce((sum, count) => sum + count)).toBe(224);
  });
});

const path = new URL('../../../shared/checks/set-classes.json', import.meta.url);
const present = existsSync(path);
if (!present) console.log('skipped: ../shared/checks/set-classes.json is absent');

interface Row {
  readonly forte: string;
  readonly rahnPrime: readonly number[];
  readonly distinctForms: number;
}

describe.skipIf(!present)('prime forms', () => {
  it('are the same as in the table, and every class has as many forms', () => {
    const { rows } = JSON.parse(readFileSync(path, 'utf8')) as { rows: readonly Row[] };
    // Rahn's prime form, packed to the left from the right end: the least set as a number.
    for (const row of rows) {
      const set = row.rahnPrime.reduce((bits, chroma) => bits | (1 << chroma), 0);
      const all = [...forms(set), ...forms(inverted(set))];
      expect(Math.min(...all), row.forte).toBe(set);
      expect(new Set(all).size, row.forte).toBe(row.distinctForms);
    }
    expect(rows.length).toBe(223);
  });
});

describe.skipIf(!present)('sounds that are no chord', () => {
  const { rows } = present
    ? (JSON.parse(readFileSync(path, 'utf8')) as { rows: readonly Row[] })
    : { rows: [] };
  const stepsOf = (tones: readonly number[]): number[] =>
    tones.slice(1).map((tone, below) => tone - (tones[below] ?? 0));
  const upsideDown = (tones: readonly number[]): number[] =>
    tones.map((tone) => (tones.at(-1) ?? 0) - tone).reverse();

  // A cluster is a chord of adjacent seconds (H. Cowell, New Musical Resources, 1930). Two whole tones are
  // heard as a third with its ninth between, and are a chord here.
  it('are clusters wherever a class of three to five tones stands in seconds', () => {
    let clusters = 0;
    for (const { forte, rahnPrime } of rows) {
      if (rahnPrime.length < 3 || rahnPrime.length > 5) continue;
      const steps = stepsOf(rahnPrime);
      if (steps.some((step) => step > 2) || (steps.length === 2 && !steps.includes(1))) continue;
      clusters++;
      for (const tones of [rahnPrime, upsideDown(rahnPrime)])
        for (let low = 48; low < 60; low++) {
          const { names, interval } = namedPitches(tones.map((tone) => low + tone));
          expect(names, forte).toEqual([]);
          expect(interval, forte).toMatch(/^cluster: /);
          // an octave apart the same tones are a chord
          const [first = 0, ...others] = tones;
          const spread = [low + first - 12, ...others.map((tone) => low + tone + 12)];
          expect(namedPitches(spread).names, forte).not.toEqual([]);
        }
    }
    // rows of ones and twos up to reversal: two of two steps (without two whole tones), six of three, ten
    // of four
    expect(clusters).toBe(18);
  });

  // 3-9 and 4-23 are the classes of fourths (and fifths) above one another
  it.each([
    ['3-9', 3],
    ['4-23', 4],
  ])('are stacks of fourths where %s stands so', (forte, size) => {
    const stack = Array.from({ length: size }, (_, place) => 5 * place);
    const classes = (tones: readonly number[]): string =>
      [...new Set(tones.map((tone) => tone % 12))].sort((a, b) => a - b).join();
    const prime = rows.find((row) => row.forte === forte)?.rahnPrime ?? [];
    const turned = Array.from({ length: 12 }, (_, up) => classes(stack.map((tone) => tone + up)));
    expect(turned).toContain(classes(prime));
    for (let low = 40; low < 52; low++) {
      const { names, interval } = namedPitches(stack.map((tone) => low + tone));
      expect(names).toEqual([]);
      expect(interval).toMatch(/^stack of fourths: /);
    }
  });
});
