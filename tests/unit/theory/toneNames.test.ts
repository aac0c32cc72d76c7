/** How notes that sound are spelled. The rule is that of print for players (common practice): no double accidental where a plain name serves. */
import { describe, expect, it } from 'vitest';
import { readChord } from '$lib/theory/readChord';
import { pitchText } from '$lib/theory/pitch';
import { spelled } from '$lib/theory/toneNames';

const heard = (symbol: string, midi: number): string => {
  const read = readChord(symbol);
  if (!read.ok || read.value === 'no chord') throw new Error(symbol);
  return pitchText(spelled(read.value.tones, midi));
};

describe('a note that sounds', () => {
  it.each([
    // E7#9 has F##, which is G; Cdim7 has Bbb, which is A
    ['E7#9', 67, 'G4'],
    ['Cdim7', 69, 'A4'],
    // single accidentals stay as the chord has them
    ['E7#9', 68, 'G#4'],
    ['Dbm7', 71, 'Cb5'],
    ['F#maj9#11', 72, 'B#4'],
  ])('of %s is %s as %s', (symbol, midi, name) => {
    expect(heard(symbol, midi).replace(/-?\d+$/u, '')).toBe(name.replace(/-?\d+$/u, ''));
    expect(heard(symbol, midi)).toMatch(/^[A-G](?:#|b)?-?\d+$/u);
  });
});
