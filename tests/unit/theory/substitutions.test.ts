/** Substitutions and chord numbers, against common practice of tonal harmony, worked out by hand. */
import { describe, expect, it } from 'vitest';
import { chordSigns, numberOf } from '$lib/theory/chordNumber';
import type { Chord } from '$lib/theory/chord';
import { readChord } from '$lib/theory/readChord';
import { parseKey, type Key } from '$lib/theory/spelling';
import { substitutionsOf, type SubstitutionRule } from '$lib/theory/substitutions';

function chord(text: string): Chord {
  const read = readChord(text);
  if (!read.ok || read.value === 'no chord') throw new Error(text);
  return read.value;
}
const key = (text: string): Key => {
  const read = parseKey(text);
  if (read === undefined) throw new Error(text);
  return read;
};
const symbols = (rule: SubstitutionRule, now: string, next?: string, inKey = 'C'): string[] =>
  substitutionsOf(chord(now), next === undefined ? undefined : chord(next), key(inKey))
    .filter((each) => each.rule === rule)
    .map((each) => each.chord.symbol);

describe('what may stand for a chord', () => {
  it.each([
    ['tritone', 'G7', 'C', ['Db7']],
    ['tritone', 'D7', 'G', ['Ab7']],
    ['tritone', 'C', 'F', []],
    ['passing diminished', 'C', 'Dm', ['C#dim7']],
    ['passing diminished', 'F', 'G', ['F#dim7']],
    ['passing diminished', 'C', 'F', []],
    ['secondary dominant', 'C', 'Dm', ['A7']],
    ['secondary dominant', 'C', 'G', ['D7']],
    ['secondary dominant', 'G7', 'C', []],
    ['relative', 'C', undefined, ['Am']],
    ['relative', 'Am', undefined, ['C']],
    ['relative', 'Dm7', undefined, ['Fmaj7']],
    ['quartal', 'G7', undefined, ['G7sus4']],
    ['quartal', 'Dm7', undefined, ['Dm11']],
  ] as const)('%s of %s before %s', (rule, now, next, expected) => {
    expect(symbols(rule, now, next)).toEqual(expected);
  });

  it('keeps the third and the seventh across the tritone', () => {
    const [sub] = substitutionsOf(chord('G7'), undefined, key('C'));
    // B and F, chromas 11 and 5
    expect(sub?.chord.tones.map(({ chroma }) => chroma)).toEqual(expect.arrayContaining([11, 5]));
  });
});

describe('chords by numbers', () => {
  it.each([
    ['C', 'C', '1'],
    ['Am', 'C', '6-'],
    ['G7', 'C', '5⁷'],
    ['Fmaj7', 'C', '4maj⁷'],
    ['Bb', 'C', '♭7'],
    ['C/E', 'C', '1/3'],
    ['F#dim', 'C', '♯4°'],
    ['Am', 'Am', '1-'],
    ['C', 'Am', '♭3'],
  ])('%s in %s is %s', (symbol, inKey, number) => {
    expect(numberOf(chord(symbol), key(inKey))).toBe(number);
  });

  it('stand beside the letters or instead of them', () => {
    expect(chordSigns(chord('Dm7'), key('C'), 'letters and numerals')).toEqual(['Dm7', 'ii7']);
    expect(chordSigns(chord('Dm7'), key('C'), 'numbers')).toEqual(['2-⁷']);
    expect(chordSigns('no chord', key('C'), 'numerals')).toEqual(['N.C.']);
  });
});
