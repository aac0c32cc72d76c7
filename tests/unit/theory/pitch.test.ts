/** Names and pitches in scientific pitch notation: C4 is middle C and MIDI 60, octaves begin at C, MIDI ends at G9. */
import { describe, expect, it } from 'vitest';
import {
  hzOf,
  nameText,
  parseNoteName,
  parsePitch,
  pitchNamed,
  pitchText,
} from '$lib/theory/pitch';

describe('a pitch', () => {
  it.each([
    ['C4', 60],
    ['A4', 69],
    ['E#4', 65],
    // the letter says the octave: C♭4 sounds as B3 does, B♯3 as C4
    ['Cb4', 59],
    ['B#3', 60],
    ['Ebb2', 38],
    ['F##2', 43],
    // the first and the last of MIDI
    ['C-1', 0],
    ['G9', 127],
    [' B♭2 ', 46],
    ['f𝄪2', 43],
  ])('%s is MIDI %i', (text, midi) => {
    expect(parsePitch(text)?.midi).toBe(midi);
  });

  it.each(['Cb-1', 'G#9', 'H4', 'C', '4', '', 'C10', 'xC4', 'C4x', 'C#b4', 'C###4'])(
    '“%s” is none',
    (text) => {
      expect(parsePitch(text)).toBeUndefined();
    },
  );

  it('is written in the octave of its letter', () => {
    const written = (name: string, midi: number): string => {
      const read = parseNoteName(name);
      return read === undefined ? '' : pitchText(pitchNamed(read, midi));
    };
    expect(written('Cb', 59)).toBe('Cb4');
    expect(written('B', 59)).toBe('B3');
    expect(written('B#', 60)).toBe('B#3');
    expect(written('Fx', 43)).toBe('F##2');
    expect(written('Abb', 43)).toBe('Abb2');
  });

  it('sounds an octave higher at twice the frequency', () => {
    expect(hzOf(69)).toBe(440);
    expect(hzOf(81)).toBe(880);
    expect(hzOf(57, 442)).toBe(221);
  });
});

describe('the name of a note', () => {
  it.each(['C', 'F#', 'Bb', 'Ebb', 'G##'])('%s is read and written alike', (text) => {
    const name = parseNoteName(` ${text} `);
    expect(name && nameText(name)).toBe(text);
  });

  it.each(['', 'H', 'C4', 'Cbbb', '#C', 'C b', 'aC'])('“%s” is none', (text) => {
    expect(parseNoteName(text)).toBeUndefined();
  });
});
