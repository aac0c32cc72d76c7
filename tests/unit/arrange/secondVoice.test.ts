/** The second voice by the contract's rule, worked out by hand from the scales. */
import { expect, it } from 'vitest';
import { parsePitch, pitchText, type Pitch } from '$lib/theory/pitch';
import { readChord } from '$lib/theory/readChord';
import { parseKey, type Key } from '$lib/theory/spelling';
import { secondVoice } from '$lib/arrange/secondVoice';

it.each([
  ['thirds', 'C', 'C', 'C5', 'A4'],
  ['thirds', 'C', 'G', 'B4', 'G4'],
  ['thirds', 'C', 'C', 'E4', 'C4'],
  ['thirds', 'C', 'C', 'D4', 'B3'],
  ['thirds', 'Eb', 'Eb', 'G5', 'Eb5'],
  ['sixths', 'C', 'C', 'E4', 'G3'],
  ['sixths', 'C', 'C', 'C5', 'E4'],
  ['sixths', 'D', 'D', 'A4', 'C#4'],
  ['tenths', 'C', 'C', 'E5', 'C4'],
  ['tenths', 'C', 'G', 'B4', 'G3'],
  // the scale's G is no tone of E7, and the chord has a G of its own
  ['thirds', 'Am', 'E7', 'B4', 'G#4'],
  ['tenths', 'Am', 'E7', 'B4', 'G#3'],
  ['sixths', 'Am', 'E7', 'E5', 'G#4'],
  ['thirds', 'Am', 'Am', 'B4', 'G4'],
  // F is no tone of E7 either, but the chord has none with that letter
  ['thirds', 'Am', 'E7', 'A4', 'F4'],
  // B below D flat would be a whole tone
  ['thirds', 'C', 'C', 'Db5', 'Bb4'],
  ['thirds', 'C', 'A7', 'C#5', 'A4'],
] as const)('%s in %s over %s: below %s is %s', (texture, key, symbol, melody, below) => {
  const chord = readChord(symbol);
  if (!chord.ok || chord.value === 'no chord') throw new Error(symbol);
  const found = secondVoice(
    parsePitch(melody) as Pitch,
    texture,
    parseKey(key) as Key,
    chord.value,
  );
  expect(pitchText(found)).toBe(below);
});
