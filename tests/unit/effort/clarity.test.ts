/** What is heard of a voicing: harmony and arranging as they are commonly taught, from memory. */
import { describe, expect, it } from 'vitest';
import { clarityTerms, clearFrom, closeTerms, splitTerms } from '$lib/effort/clarity';
import type { Term } from '$lib/effort/weights';
import { parsePitch } from '$lib/theory/pitch';
import { chordOf } from '../search/asking';

const midi = (notes: string): number[] =>
  notes.split(' ').map((note) => parsePitch(note)?.midi ?? NaN);

/** What is not clear about some notes (low to high) as a voicing of a chord. */
function unclear(symbol: string, notes: string): readonly Term[] {
  const chord = chordOf(symbol);
  const pitches = midi(notes);
  const missing = chord.tones
    .filter(({ chroma }) => !pitches.some((pitch) => pitch % 12 === chroma))
    .map(({ degree }) => degree);
  return clarityTerms(chord, missing, pitches);
}

const cost = (symbol: string, notes: string): number =>
  unclear(symbol, notes).reduce((sum, { value }) => sum + value, 0);
const terms = (symbol: string, notes: string): string[] =>
  unclear(symbol, notes).map(({ name }) => name);

describe('the clarity of a voicing', () => {
  it('costs nothing in a complete, spread chord in the middle register', () => {
    for (const [symbol, notes] of [
      ['C', 'C4 E4 G4'],
      ['C', 'E4 G4 C5'],
      ['Cmaj7', 'C4 G4 B4 E5'],
      ['G7', 'G3 D4 F4 B4'],
      ['Bdim', 'B3 D4 F4'],
    ] as const)
      expect(cost(symbol, notes), `${symbol}: ${notes}`).toBe(0);
  });

  it('misses a fifth least, then the root, then what names the chord', () => {
    const fifth = cost('G7', 'G3 B3 F4');
    const root = cost('G7', 'B3 D4 F4');
    const third = cost('G7', 'G3 D4 F4');
    const seventh = cost('G7', 'G3 B3 D4');
    expect(fifth).toBeGreaterThan(0);
    expect(root).toBeGreaterThan(fifth);
    expect(Math.min(third, seventh)).toBeGreaterThan(root);
    expect(cost('G9', 'F3 B3 D4 G4')).toBeGreaterThan(cost('G9', 'F3 A3 B3 G4'));
  });

  it('misses the ninth of a thirteenth chord less than the thirteenth', () => {
    expect(cost('G13', 'G3 F4 B4 E5')).toBeLessThan(cost('G13', 'G3 F4 A4 B4'));
    // and than the fifth, which is a tone of the chord itself
    expect(cost('G13', 'G3 D4 F4 B4 E5')).toBeLessThan(cost('G13', 'G3 F4 B4 E5 A5'));
  });

  it('misses root and fifth together more than one after the other', () => {
    const both = cost('G13', 'F3 B3 E4');
    expect(both).toBeGreaterThan(
      cost('G13', 'F3 B3 D4 E5') + cost('G13', 'G3 F4 B4 E5') - cost('G13', 'G3 D4 F4 B4 E5'),
    );
  });

  it('misses a root more where the rest is a chord of its own', () => {
    // G B D F without G resolves as it did; C E G B without C is E minor
    expect(cost('Cmaj7', 'E4 G4 B4')).toBeGreaterThan(cost('G7', 'B3 D4 F4'));
  });

  it('hears another chord where a whole triad on another root is left', () => {
    const isOther = (symbol: string, notes: string): boolean =>
      terms(symbol, notes).includes('heard as another chord');
    // C E A is A minor, C E♭ A is A diminished, C F B♭ is F suspended, C D G is G suspended
    expect(isOther('C6', 'C4 E4 A4')).toBe(true);
    expect(isOther('Cm6', 'C4 Eb4 A4')).toBe(true);
    expect(isOther('C7sus4', 'C4 F4 Bb4')).toBe(true);
    expect(isOther('Cadd9', 'C4 G4 D5')).toBe(true);
    // C D G is all that was asked for; C E G is a chord on its own root; C E B is none
    expect(isOther('Csus2', 'C4 D4 G4')).toBe(false);
    expect(isOther('C6', 'C4 E4 G4')).toBe(false);
    expect(isOther('Cmaj7', 'C4 E4 B4')).toBe(false);
  });

  it('stands firm on root or fifth, and asks that of more than two notes only', () => {
    const isAfloat = (symbol: string, notes: string): boolean =>
      terms(symbol, notes).includes('neither root nor fifth');
    expect(isAfloat('G9', 'F3 B3 A4')).toBe(true);
    // a diminished fifth is one, and a raised one
    expect(isAfloat('Bm7b5', 'D4 F4 A4')).toBe(false);
    expect(isAfloat('C7#5', 'E4 G#4 Bb4')).toBe(false);
    expect(isAfloat('G7', 'B3 F4')).toBe(false);
    // of an altered dominant the ear counts one fifth and one ninth
    const altered = (missing: readonly string[], notes: string): string[] =>
      clarityTerms(chordOf('G7alt'), missing, midi(notes)).map(({ name }) => name);
    expect(altered(['1', '5'], 'B3 F4 Bb4')).toContain('neither root nor fifth');
    expect(altered(['1', '5', '9'], 'B3 F4')).not.toContain('neither root nor fifth');
    expect(altered(['5'], 'G3 B3 F4 Bb4')).toEqual(['without an altered 5']);
  });

  it('hears a semitone as a rub, a whole tone much less, either an octave wider not at all', () => {
    expect(cost('Cmaj7', 'G4 B4 C5 E5')).toBeGreaterThan(cost('Cadd9', 'G4 C5 D5 E6'));
    expect(cost('Cadd9', 'G4 C5 D5 E6')).toBeGreaterThan(0);
    expect(cost('Cmaj7', 'C4 E4 G4 B4')).toBe(0);
    expect(cost('Cadd9', 'C4 E4 G4 D5')).toBe(0);
  });

  it('hears three neighbours as a cluster, worse than two seconds apart', () => {
    expect(cost('Cadd9', 'C4 D4 E4 G4')).toBeGreaterThan(2 * cost('Cadd9', 'C4 D4 G4 E5'));
  });

  it('tells each kind of closeness once, and counts its pairs', () => {
    const close = (notes: string): string[] => closeTerms(midi(notes)).map(({ name }) => name);
    expect(close('C4 C4 E4 E4')).toEqual(['2 × a unison']);
    expect(closeTerms(midi('C4 C4 E4 E4'))[0]?.value).toBe(
      2 * (closeTerms(midi('C4 C4'))[0]?.value ?? NaN),
    );
    expect(close('C4 D4 E4')).toEqual(['2 × a whole tone between neighbours', 'a cluster']);
    // three strings, but two tones: no cluster
    expect(close('C4 C4 D4')).toEqual(['a unison', 'a whole tone between neighbours']);
    expect(close('C4 D4 D4')).toEqual(['a unison', 'a whole tone between neighbours']);
  });

  it('is that of the pitches, in whatever order the strings have them', () => {
    expect(terms('Cmaj7', 'C5 G4 E5 B4')).toEqual(['a semitone between neighbours']);
  });

  it('finds nothing worse than a string in unison', () => {
    const unison = cost('E5', 'B3 B3 E4');
    for (const notes of ['E4 B4 E5', 'B3 E4 B4', 'E4 B4'])
      expect(cost('E5', notes)).toBeLessThan(unison);
    expect(unison).toBeGreaterThan(cost('Cmaj7', 'B4 C5 E5'));
  });

  it('finds thirds muddy below C3 and B2, and more the lower they lie', () => {
    // low interval limits: minor third C3–E♭3, major third B2–D♯3
    expect(cost('Cm', 'C3 Eb3 G3')).toBe(0);
    expect(cost('Bm', 'B2 D3 F#3')).toBeGreaterThan(0);
    expect(cost('B', 'B2 D#3 F#3')).toBe(0);
    expect(cost('A', 'A2 C#3 E3')).toBeGreaterThan(0);
    expect(cost('F', 'F2 A2 C3')).toBeGreaterThan(cost('A', 'A2 C#3 E3'));
    // a fifth or a tenth is clear down there
    expect(cost('F', 'F2 C3 A3')).toBe(0);
  });

  it('is clear from the fret on which its lowest third reaches its limit', () => {
    // A2 C♯3 has to rise by 2 to B2; F2 A2 by 6, A2 C3 by 3 to C3
    expect(clearFrom(midi('A2 C#3 E3'))).toBe(2);
    expect(clearFrom(midi('F2 A2 C3'))).toBe(6);
    expect(clearFrom(midi('C4 E4 G4'))).toBe(0);
    expect(terms('A', 'A2 C#3 E3')).toEqual(['seconds or thirds too low']);
  });

  it('suffers from each string between a raise and a lower as much as from one more pedal', () => {
    expect(splitTerms(0)).toEqual([]);
    expect(splitTerms(1)).toEqual([{ part: 'clarity', name: 'a split', value: 1 }]);
    expect(splitTerms(2)).toEqual([{ part: 'clarity', name: '2 splits', value: 2 }]);
  });

  it('is told in named terms', () => {
    const names = clarityTerms(chordOf('G13'), ['1', '5', '9'], midi('F3 B3 C4 E4')).map(
      ({ name }) => name,
    );
    expect(names).toEqual([
      'without the root',
      'without the 5',
      'without the 9',
      'neither root nor fifth',
      'a semitone between neighbours',
    ]);
  });
});
