import { describe, expect, it } from 'vitest';
import { allowedSets, defaultMatch, fewToneSets } from '$lib/theory/allowedSets';
import type { Chord } from '$lib/theory/chord';
import { CHORD_TYPES } from '$lib/theory/chordTypes';
import { chromasIn, has, sizeOf } from '$lib/theory/pcset';
import { nameText } from '$lib/theory/pitch';
import { readChord } from '$lib/theory/readChord';

const chord = (symbol: string): Chord => {
  const result = readChord(symbol);
  if (!result.ok || result.value === 'no chord') throw new Error(symbol);
  return result.value;
};
const free = (symbol: string): string =>
  chord(symbol)
    .tones.filter((tone) => !tone.must)
    .map((tone) => tone.degree)
    .join(' ');
const spelled = (symbol: string): string =>
  chord(symbol)
    .tones.map((tone) => nameText(tone.name))
    .join(' ');
const missing = (symbol: string, match: 'lean' | 'rootless'): string[] =>
  allowedSets(chord(symbol), match).map((allowed) => allowed.missing.join(' '));

describe('a chord', () => {
  it('spells its tones by degree from the root', () => {
    // never a double accidental where a plain name serves
    expect(spelled('Cdim7')).toBe('C Eb Gb A');
    expect(spelled('E7#9')).toBe('E G# B D G');
    expect(spelled('F#maj9#11')).toBe('F# A# C# E# G# B#');
    expect(spelled('Dbm7')).toBe('Db Fb Ab Cb');
    expect(spelled('C/Bb')).toBe('C E G Bb');
  });

  it.each([
    // The duties of the tones by hand, from the rule: fifth, root and inner extensions are free.
    ['C', '1 5'],
    ['Csus4', '1 5'],
    ['C5', ''],
    ['Cdim', '1'],
    ['Caug', '1'],
    ['C6/9', '1 5'],
    ['C9', '1 5'],
    ['C13', '1 5 9'],
    ['Cm11', '1 5 9'],
    ['C9#11', '1 5'],
    ['C13#11', '1 5 9'],
    ['C7b9', '1 5'],
    ['C13b9', '1 5'],
    ['C7b9b13', '1 5'],
    ['C13sus4', '1 5 9'],
    ['Cadd9', '1 5'],
    ['C/E', '1 5'],
    ['C/G', '1'],
    ['C/C', '5'],
    ['C/D', '1 5'],
  ])('%s may leave out %s', (symbol, degrees) => {
    expect(free(symbol)).toBe(degrees);
  });

  it('names a bass that is no chord tone, and one that is by its degree', () => {
    expect(chord('C/F#').tones.at(-1)).toMatchObject({ degree: '#11', role: 'bass', must: true });
    expect(chord('C7/A#').symbol).toBe('C7/Bb');
    expect(chord('C/E').bass).toEqual({ letter: 'E', alter: 0 });
    expect('bass' in chord('C')).toBe(false);
  });

  it('keeps MusicXML apart from a foreign bass', () => {
    expect(chord('C/Bb')).toMatchObject({ kind: 'major', degrees: [] });
  });
});

describe('an altered dominant', () => {
  // common practice of jazz harmony: root, third and seventh with any altered fifth and any altered ninth
  const sets = (match: 'complete' | 'lean' | 'rootless'): Map<string, string> =>
    new Map(
      allowedSets(chord('C7alt'), match).map(({ set, missing }) => [
        chromasIn(set).join(' '),
        missing.join(' '),
      ]),
    );

  it('is complete with one altered fifth and one altered ninth, whichever they are', () => {
    for (const ninth of [1, 3])
      for (const fifth of [6, 8]) {
        const five = [0, ninth, 4, fifth, 10].sort((a, b) => a - b).join(' ');
        expect(sets('complete').get(five)).toBe('');
      }
    expect(sets('complete').get('0 1 3 4 6 8 10')).toBe('');
    expect(sets('complete').has('0 1 4 10')).toBe(false);
  });

  it('may lack either of them, or its root, but never third or seventh or both altered tones', () => {
    expect(sets('lean').get('0 1 4 10')).toBe('5');
    expect(sets('lean').get('0 4 8 10')).toBe('9');
    expect(sets('rootless').get('3 4 8 10')).toBe('1');
    expect(sets('rootless').get('1 4 10')).toBe('1 5');
    for (const set of sets('rootless').keys()) {
      const tones = set.split(' ').map(Number);
      expect(tones).toEqual(expect.arrayContaining([4, 10]));
      expect(
        tones.some((tone) => [1, 3, 6, 8].includes(tone)),
        set,
      ).toBe(true);
      expect(
        tones.some((tone) => [2, 5, 7, 9, 11].includes(tone)),
        set,
      ).toBe(false);
    }
  });

  it('has its root wherever that is not left out on purpose, and few tones before many', () => {
    for (const match of ['complete', 'lean'] as const)
      for (const set of sets(match).keys()) expect(set, match).toMatch(/^0 /);
    const ranks = allowedSets(chord('C7alt'), 'rootless').map(
      ({ set, missing }) => 100 * missing.length + sizeOf(set),
    );
    expect(ranks).toEqual(ranks.toSorted((a, b) => a - b));
  });

  it('keeps the tone that a slash puts in the bass', () => {
    for (const { set } of allowedSets(chord('C7alt/Ab'), 'rootless'))
      expect(chromasIn(set)).toContain(8);
  });

  it('is written as it was typed, and read back', () => {
    expect(chord('Galt').symbol).toBe('G7alt');
    expect(chord('G7alt7').symbol).toBe('G7alt');
    expect(chord('Bb7alt/Ab').symbol).toBe('Bb7alt/Ab');
    expect(chord('G7#5#9').symbol).toBe('G7#5#9');
  });
});

describe('what satisfies a chord', () => {
  it('lean leaves out only what it may, down to three tones or a triad without its fifth', () => {
    expect(missing('C', 'lean')).toEqual(['', '5']);
    expect(missing('Cm7', 'lean')).toEqual(['', '5']);
    expect(missing('Cdim', 'lean')).toEqual(['']);
    expect(missing('C5', 'rootless')).toEqual(['']);
    expect(new Set(missing('C13', 'lean'))).toEqual(new Set(['', '5', '9', '5 9']));
  });

  it('rootless does without the root too', () => {
    expect(missing('C', 'rootless')).toEqual(['', '5']);
    expect(new Set(missing('C9', 'rootless'))).toEqual(new Set(['', '1', '5', '1 5']));
    // C9 without its root is E half-diminished.
    const sets = allowedSets(chord('C9'), 'rootless').map((allowed) => chromasIn(allowed.set));
    expect(sets).toContainEqual([2, 4, 7, 10]);
  });

  it('complete is exactly the chord, and each match takes in the one before', () => {
    for (const symbol of ['C', 'F#m7b5', 'Bb13', 'C/E', 'C11', 'Cmaj13']) {
      const sets = (['complete', 'lean', 'rootless'] as const).map((match) =>
        allowedSets(chord(symbol), match).map((allowed) => allowed.set),
      );
      expect(sets[0]).toEqual([chord(symbol).pitchClasses]);
      expect(sets[1]).toEqual(expect.arrayContaining(sets[0] ?? []));
      expect(sets[2]).toEqual(expect.arrayContaining(sets[1] ?? []));
    }
  });

  it('is what the rule says, tried on every subset of every type', () => {
    // The rule in plain words over all subsets, against the enumeration.
    for (const { suffix } of CHORD_TYPES) {
      const wanted = chord(`C${suffix}`);
      const triad = wanted.tones.length === 3 && wanted.tones.some((t) => t.degree === '5');
      for (const match of ['lean', 'rootless'] as const) {
        const plain: number[] = [];
        for (let set = 1; set < 4096; set++) {
          if ((set & ~wanted.pitchClasses) !== 0) continue;
          const gone = wanted.tones.filter((tone) => !has(set, tone.chroma));
          if (gone.some((tone) => tone.must)) continue;
          if (match === 'lean' && gone.some((tone) => tone.degree === '1')) continue;
          const onlyFifth = gone.length === 1 && gone[0]?.degree === '5';
          if (gone.length > 0 && sizeOf(set) < 3 && !(triad && onlyFifth)) continue;
          plain.push(set);
        }
        const found = allowedSets(wanted, match).map((allowed) => allowed.set);
        expect(
          found.sort((a, b) => a - b),
          `C${suffix} ${match}`,
        ).toEqual(plain);
      }
    }
  });

  it('begins with what lacks fewest tones', () => {
    const lacking = missing('C13', 'rootless').map((degrees) => degrees.split(' ').filter(Boolean));
    expect(lacking.map(({ length }) => length)).toEqual([0, 1, 1, 1, 2, 2, 2, 3]);
  });

  it('is any tone or any two of a chord on one or two strings, the others missing', () => {
    const few = (symbol: string, strings: number): string[] =>
      fewToneSets(chord(symbol), strings).map(
        (each) => `${chromasIn(each.set).join(' ')} without ${each.missing.join(' ')}`,
      );
    expect(few('Cm', 1)).toEqual(['0 without b3 5', '3 without 1 5', '7 without 1 b3']);
    expect(few('Cm', 2)).toEqual(['0 3 without 5', '0 7 without b3', '3 7 without 1']);
    // four over two: 6 pairs
    expect(new Set(few('C7', 2)).size).toBe(6);
    expect(few('C7alt', 2)).toContain('4 10 without 1 5 9');
    expect(few('C7alt', 2)).toContain('0 6 without 3 b7 9');
  });

  it('is rootless by itself from five different tones on', () => {
    expect(defaultMatch(chord('C7'))).toBe('lean');
    expect(defaultMatch(chord('C9'))).toBe('rootless');
  });
});
