/** Harmonics: where a string is touched, what it sounds, and how it is heard. */
import { describe, expect, it } from 'vitest';
import { builtIn } from '$lib/setup/builtIns';
import { HARMONICS, harmonicsOf } from '$lib/search/harmonics';
import { touchedNotes } from '$lib/playing/touched';

const e9 = builtIn('e9');
const hold = { neck: 1, fret: 3, slant: 0, engaged: [], strings: [3, 4, 5] };

describe('a string touched over the bar', () => {
  // a partial sounds at n times the frequency, and has a node at 1/n of the string from the bridge's far end:
  // what is left beyond the touch is (n − 1)/n of it, so it lies 12·log2(n/(n − 1)) frets on
  it('is touched at a node of the partial that it sounds', () => {
    [2, 3, 4].forEach((partial, at) => {
      const { frets, semitones } = HARMONICS[at] ?? { frets: NaN, semitones: NaN };
      expect(Math.abs(frets - 12 * Math.log2(partial / (partial - 1)))).toBeLessThan(0.03);
      expect(Math.abs(semitones - 12 * Math.log2(partial))).toBeLessThan(0.03);
    });
  });
  // G on an E9 at fret 3 is B4 G4 D4 on strings 3, 4 and 5; an octave up at fret 15 (common practice)
  it('gives the chord an octave up, touched twelve frets on', () => {
    const [octave, twelfth] = harmonicsOf(e9, hold);
    expect(octave?.strings).toEqual([
      { string: 3, touch: 15, pitch: 83 },
      { string: 4, touch: 15, pitch: 79 },
      { string: 5, touch: 15, pitch: 74 },
    ]);
    expect(twelfth?.strings.map(({ touch, pitch }) => [touch, pitch])).toEqual([
      [10, 90],
      [10, 86],
      [10, 81],
    ]);
    expect(octave?.isOnNeck).toBe(true);
    expect(harmonicsOf(e9, { ...hold, fret: 13 })[0]?.isOnNeck).toBe(false);
  });
  it('is touched beyond its own fret under a slanted bar', () => {
    const lap = builtIn('lap6-c6');
    const [octave] = harmonicsOf(lap, { ...hold, fret: 5, slant: 1, strings: [1, 2] });
    expect(octave?.strings.map(({ touch }) => touch)).toEqual([18, 17]);
  });
  it('is heard at the pitch that it sounds', () => {
    for (const { harmonic, strings } of harmonicsOf(e9, hold)) {
      const notes = touchedNotes(e9, hold, harmonic);
      expect(notes.every((note) => note.harmonic)).toBe(true);
      for (const { string, pitch } of strings) {
        const note = notes.find((each) => each.string === string);
        // the setup is tuned a few cents beside equal temperament
        expect(Math.abs((note?.midi ?? 0) + 12 - pitch)).toBeLessThan(0.3);
      }
    }
  });
});
