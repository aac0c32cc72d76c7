import { describe, expect, it } from 'vitest';
import { CHORD_TYPES } from '$lib/theory/chordTypes';
import {
  prettyName,
  prettyNotes,
  prettySymbol,
  spokenName,
  spokenSymbol,
  spokenType,
  typeName,
} from '$lib/theory/display';
import { namesOf } from '$lib/theory/names';
import { pcSetOf } from '$lib/theory/pcset';
import { noteName } from '$lib/theory/pitch';
import { readChord } from '$lib/theory/readChord';

const spoken = (symbol: string): string => {
  const result = readChord(symbol);
  return result.ok && result.value !== 'no chord' ? spokenSymbol(result.value) : 'refused';
};

describe('symbols for the eye', () => {
  it.each([
    ['C#m7b5', 'C♯m7♭5'],
    ['Bb', 'B♭'],
    ['Bbb7b9', 'B𝄫7♭9'],
    ['F##m', 'F𝄪m'],
    ['Abadd9', 'A♭add9'],
    ['C7(addb9,no5)/Bb', 'C7(add♭9,no5)/B♭'],
    ['C6/9', 'C6/9'],
  ])('%s is %s', (plain, pretty) => {
    expect(prettySymbol(plain)).toBe(pretty);
  });

  it('names', () => {
    expect(prettyName(noteName('B', -2))).toBe('B𝄫');
    expect(prettyName(noteName('F', 1))).toBe('F♯');
  });

  it('read back to the same chord', () => {
    for (const { suffix } of CHORD_TYPES) {
      const symbol = `Eb${suffix}`;
      const [plain, pretty] = [readChord(symbol), readChord(prettySymbol(symbol))];
      expect(pretty).toEqual(plain);
    }
  });
});

describe('symbols for the ear', () => {
  it.each([
    ['C#m7', 'C sharp minor seventh'],
    ['F7', 'F dominant seventh'],
    ['Eb', 'E flat major'],
    ['Cm7b5', 'C half-diminished seventh'],
    ['C7b9', 'C dominant seventh flat nine'],
    ['C9sus4', 'C dominant ninth suspended fourth'],
    ['Csus2', 'C suspended second'],
    ['Cadd9', 'C major added ninth'],
    ['C9no5', 'C dominant ninth without fifth'],
    ['C/E', 'C major over E'],
    ['Am7/G', 'A minor seventh over G'],
  ])('%s is said %s', (symbol, words) => {
    expect(spoken(symbol)).toBe(words);
  });

  it('says the bass of a name only where the symbol shows it', () => {
    const [name] = namesOf(pcSetOf([0, 4, 7]), 0);
    const [turned] = namesOf(pcSetOf([0, 4, 7]), 4);
    expect(name && spokenSymbol(name)).toBe('C major');
    expect(turned && spokenSymbol(turned)).toBe('C major over E');
  });

  it('leaves no sign unsaid', () => {
    for (const { suffix } of CHORD_TYPES) expect(spokenType(suffix)).toMatch(/^[a-z -]+$/);
    expect(spokenName(noteName('B', -1))).toBe('B flat');
  });
});

describe('a chord type in a table', () => {
  it('is named as players write it, the two plainest in words', () => {
    expect(['', 'm', 'm7b5', '7#9'].map(typeName)).toEqual(['major', 'minor', 'm7♭5', '7♯9']);
  });
});

it.each([
  ['F#4 D#4 Bb3 E3, as such tunings are strung', 'F♯4 D♯4 B♭3 E3, as such tunings are strung'],
  ['+2 (C##), and “F#” stays as it is quoted', '+2 (C𝄪), and “F#” stays as it is quoted'],
  ['A Bbm chord, an Abbey, E9 and LKL', 'A Bbm chord, an Abbey, E9 and LKL'],
])('%s is shown with real signs', (plain, pretty) => {
  expect(prettyNotes(plain)).toBe(pretty);
});
