/**
 * Pitches and their frequencies against printed tables. Handbook values to two or three decimals: CRC
 * Handbook of Chemistry and Physics, section 14, "Musical scales"; MTU table (A3 to G5); MIDI 0 and 12:
 * OEIS A320304. All for A4 = 440 Hz (ISO 16:1975), equal temperament.
 */
import { existsSync, readFileSync } from 'node:fs';
import { note } from 'tonal';
import { describe, expect, it } from 'vitest';
import { fretMm } from '$lib/setup/setup';
import {
  chromaOf,
  hzOf,
  nameText,
  parseNoteName,
  parsePitch,
  pitchNamed,
  pitchText,
} from '$lib/theory/pitch';

const HANDBOOK: readonly (readonly [string, number, number])[] = [
  ['C0', 16.352, 3],
  ['C#0', 17.324, 3],
  ['D0', 18.354, 3],
  ['D#0', 19.445, 3],
  ['E0', 20.602, 3],
  ['F0', 21.827, 3],
  ['C2', 65.406, 3],
  ['E2', 82.407, 3],
  ['F2', 87.307, 3],
  ['A3', 220, 2],
  ['B3', 246.94, 2],
  ['C4', 261.63, 2],
  ['C#4', 277.18, 2],
  ['D4', 293.66, 2],
  ['D#4', 311.13, 2],
  ['E4', 329.63, 2],
  ['F4', 349.23, 2],
  ['F#4', 369.99, 2],
  ['G4', 392, 2],
  ['G#4', 415.3, 2],
  ['A#4', 466.16, 2],
  ['B4', 493.88, 2],
  ['G5', 783.99, 2],
  ['C6', 1046.5, 2],
  ['E6', 1318.51, 2],
];

describe('frequencies', () => {
  it.each(HANDBOOK)('%s is %f Hz, as the handbooks print it', (name, hz, decimals) => {
    const pitch = parsePitch(name);
    expect(hzOf(pitch?.midi ?? NaN).toFixed(decimals)).toBe(hz.toFixed(decimals));
  });

  it('of MIDI 0 and 12 are 8.1758 and 16.3516 Hz', () => {
    expect(hzOf(0).toFixed(4)).toBe('8.1758');
    expect(hzOf(12).toFixed(4)).toBe('16.3516');
  });

  const CHECKS = '../shared/checks/check-values.json';
  const there = existsSync(CHECKS);
  if (!there) console.log(`${CHECKS} is not here: 88 frequencies are not compared.`);
  it.skipIf(!there)('agree with the table of 88 keys to six decimals', () => {
    const { et } = JSON.parse(readFileSync(CHECKS, 'utf8')) as {
      et: { midi: Record<string, number> };
    };
    expect(Object.keys(et.midi)).toHaveLength(88);
    for (const [midi, hz] of Object.entries(et.midi))
      expect(Math.abs(hzOf(Number(midi)) - hz)).toBeLessThan(1e-6);
  });

  it('follow another reference in proportion', () => {
    expect(hzOf(69, 415)).toBe(415);
    expect(hzOf(57, 442)).toBe(221);
  });
});

describe('written pitches', () => {
  const LETTERS = ['C', 'D', 'E', 'F', 'G', 'A', 'B'];
  const SIGNS = ['', '#', '##', 'b', 'bb'];

  it('have the MIDI number an independent library gives them, and are written back as read', () => {
    for (const letter of LETTERS)
      for (const sign of SIGNS)
        for (let octave = 0; octave <= 8; octave++) {
          const text = `${letter}${sign}${octave}`;
          const pitch = parsePitch(text);
          expect(pitch?.midi, text).toBe(note(text).midi);
          expect(pitch && pitchText(pitch)).toBe(text);
        }
  });

  it('are read with real signs too', () => {
    expect(parsePitch('F♯4')?.midi).toBe(66);
    expect(parsePitch('B♭♭2')?.midi).toBe(45);
    expect(parsePitch('C𝄪5')?.midi).toBe(74);
  });

  it.each(['', 'H4', 'C', '4', 'C#b4', 'C4x', 'Cb-1', 'C###4'])('“%s” is none', (text) => {
    expect(parsePitch(text)).toBeUndefined();
  });

  it('B sharp 3 and C flat 4 lie on the other side of their octave number', () => {
    expect(parsePitch('B#3')?.midi).toBe(60);
    expect(parsePitch('Cb4')?.midi).toBe(59);
  });

  it('take the octave that fits when a sounding pitch is given a name', () => {
    for (const name of ['B#', 'Cb', 'Dbb', 'E##', 'F'])
      for (let midi = 24; midi < 100; midi++) {
        const spelled = parseNoteName(name);
        if (!spelled || chromaOf(midi) !== note(`${name}4`).chroma) continue;
        const pitch = pitchNamed(spelled, midi);
        expect(pitch.midi).toBe(midi);
        expect(nameText(pitch)).toBe(name);
      }
  });
});

// L (1 − 2^(−n/12)) for a scale of 24.25 inches, computed apart (checks, section B)
it.each([
  [1, 1.36105],
  [5, 6.08303],
  [7, 8.06507],
  [12, 12.125],
  [24, 18.1875],
])('fret %i of a 24.25-inch scale lies %f inches from the nut', (fret, inches) => {
  expect(fretMm(fret, 24.25 * 25.4) / 25.4).toBeCloseTo(inches, 4);
});
