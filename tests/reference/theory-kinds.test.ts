/**
 * Chord symbols against the degrees of published lists: the kinds of MusicXML 4.0 (W3C musicxml.xsd,
 * "kind-value") and the shorthands of Harte et al. (ISMIR 2005; as in mir_eval/chord.py). A copy of
 * both lies outside of the project; the figures below are typed from it.
 */
import { existsSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { KIND_DEGREES } from '$lib/theory/kinds';
import { readChord } from '$lib/theory/readChord';

interface KindsFile {
  readonly musicxml: Readonly<Record<string, string>>;
  readonly harte: Readonly<Record<string, string>>;
  readonly tonal: readonly { readonly aliases: readonly string[]; readonly semitones: number[] }[];
}

/**
 * The other kinds of the schema. They say a function, a pedal point or no chord, or (Tristan) one
 * famous chord; a sound alone does not tell them, so they are never chosen.
 */
const OTHER_KINDS = [
  'Neapolitan',
  'Italian',
  'French',
  'German',
  'pedal',
  'Tristan',
  'other',
  'none',
];

const path = new URL('../../../shared/checks/chord-kinds.json', import.meta.url);
const present = existsSync(path);
if (!present) console.log('skipped: ../shared/checks/chord-kinds.json is absent');
const file = (): KindsFile => JSON.parse(readFileSync(path, 'utf8')) as KindsFile;

const degreesOf = (symbol: string): string => {
  const result = readChord(symbol);
  if (!result.ok || result.value === 'no chord') return 'refused';
  return result.value.tones.map((tone) => tone.degree).join(',');
};
const kindOf = (symbol: string): unknown => {
  const result = readChord(symbol);
  return result.ok && result.value !== 'no chord' ? result.value.kind : 'refused';
};

/** A usual symbol for each kind; the kinds by function have none. */
const SYMBOL_OF_KIND: Readonly<Record<string, string>> = {
  major: 'C',
  minor: 'Cm',
  augmented: 'C+',
  diminished: 'C°',
  dominant: 'C7',
  'major-seventh': 'Cmaj7',
  'minor-seventh': 'Cm7',
  'diminished-seventh': 'C°7',
  'augmented-seventh': 'C+7',
  'half-diminished': 'Cø',
  'major-minor': 'Cm(maj7)',
  'major-sixth': 'C6',
  'minor-sixth': 'Cm6',
  'dominant-ninth': 'C9',
  'major-ninth': 'Cmaj9',
  'minor-ninth': 'Cm9',
  'dominant-11th': 'C11',
  'major-11th': 'Cmaj11',
  'minor-11th': 'Cm11',
  'dominant-13th': 'C13',
  'major-13th': 'Cmaj13',
  'minor-13th': 'Cm13',
  'suspended-second': 'Csus2',
  'suspended-fourth': 'Csus4',
  power: 'C5',
};

/** 11ths and 13ths leave a tone out, as in tonal (the schema calls theirs a basis for alteration). */
const LEFT_OUT: Readonly<Record<string, string>> = {
  'dominant-11th': '3',
  'dominant-13th': '11',
  'major-13th': '11',
  'minor-13th': '11',
};

const without = (degrees: string, left: string | undefined): string =>
  degrees
    .split(',')
    .filter((degree) => degree !== left)
    .join(',');

describe.skipIf(!present)('MusicXML 4.0', () => {
  it('has 33 kinds, all of them known', () => {
    expect(Object.keys(KIND_DEGREES).length + OTHER_KINDS.length).toBe(33);
    const { Tristan: _, ...fixed } = file().musicxml;
    const ours = Object.entries(KIND_DEGREES).map(([kind, d]) => [kind, d.replaceAll(' ', ',')]);
    expect(Object.fromEntries(ours)).toEqual(fixed);
  });

  it.each(Object.entries(SYMBOL_OF_KIND))('%s is written %s', (kind, symbol) => {
    expect(degreesOf(symbol)).toBe(without(file().musicxml[kind] ?? '', LEFT_OUT[kind]));
    expect(kindOf(symbol)).toBe(kind);
  });
});

/** Harte's shorthand as chord symbols write it, where that is not the same. */
const SYMBOL_OF_HARTE: Readonly<Record<string, string>> = {
  hdim7: 'Cø7',
  minmaj7: 'Cmin(maj7)',
  maj6: 'Cmaj6',
  min6: 'Cmin6',
};

describe.skipIf(!present)('Harte shorthands', () => {
  it('are read with the same degrees', () => {
    for (const [shorthand, degrees] of Object.entries(file().harte)) {
      expect(degreesOf(SYMBOL_OF_HARTE[shorthand] ?? `C${shorthand}`), shorthand).toBe(degrees);
    }
  });
});
