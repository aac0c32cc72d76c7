/**
 * What people type who learned other notations. By hand: German names (H is B, `is` raises, `es`
 * lowers, small letters are minor), solfège (do is C), degrees in numerals and numbers (of the major
 * scale; small numerals are minor), all common practice.
 */
import { describe, expect, it } from 'vitest';
import { chordFaultText, readChord } from '$lib/theory/readChord';
import { parseKey } from '$lib/theory/spelling';

const meant = (text: string, key?: string): readonly string[] => {
  const read = readChord(text, key === undefined ? undefined : parseKey(key));
  return read.ok ? ['read'] : (read.error.other?.readings ?? []);
};

describe('a chord in another notation', () => {
  it.each([
    ['H', ['B']],
    ['H7', ['B7']],
    ['Hm7', ['Bm7']],
    ['h', ['Bm', 'B']],
    ['Es', ['Eb']],
    ['Es7', ['Eb7']],
    ['As', ['Ab']],
    ['Asm', ['Abm']],
    ['Des', ['Db']],
    ['Ges7', ['Gb7']],
    ['Fis', ['F#']],
    ['Fism7', ['F#m7']],
    ['fis', ['F#m', 'F#']],
    ['Do', ['C', 'Ddim']],
    ['Do7', ['C7', 'Ddim7']],
    ['Dom', ['Cm']],
    ['Do#m', ['C#m']],
    ['Re', ['D']],
    ['Mi7', ['E7']],
    ['Fa', ['F']],
    ['fa#m', ['F#m']],
    ['Sol7', ['G7']],
    ['La m', ['Am']],
    ['Lam7', ['Am7']],
    ['Si♭', ['Bb']],
    ['Sib7', ['Bb7']],
    ['I', ['C']],
    ['IV', ['F']],
    ['V7', ['G7']],
    ['ii', ['Dm']],
    ['iim7', ['Dm7']],
    ['vii°', ['B°']],
    ['♭VII', ['Bb']],
    ['bIII', ['Eb']],
    ['1', ['C']],
    ['4', ['F']],
    ['6-', ['A-']],
    ['6', ['Am', 'A']],
    ['5/7', ['G/B']],
    ['♭7', ['Bb']],
  ])('%s is refused, with what it likely means', (text, readings) => {
    const found = meant(text);
    const named = found.map((reading) => {
      const read = readChord(reading);
      return read.ok && read.value !== 'no chord' ? read.value.symbol : reading;
    });
    const wanted = readings.map((reading) => {
      const read = readChord(reading);
      return read.ok && read.value !== 'no chord' ? read.value.symbol : reading;
    });
    expect(named).toEqual(wanted);
  });

  it('counts degrees from the key that is set', () => {
    expect(meant('V7', 'Eb')).toEqual(['Bb7']);
    expect(meant('4', 'A')).toEqual(['D']);
    expect(meant('bVII', 'D')).toEqual(['C']);
    expect(meant('VI', 'Cm')).toEqual(['Ab']);
  });

  it('leaves every chord alone that is written as here', () => {
    for (const text of [
      'Esus4',
      'Asus2',
      'Faug',
      'Fadd9',
      'E7',
      'A',
      'B7',
      'Bb7',
      'Ddim7',
      'dm7',
      'b',
      'b7',
    ])
      expect(meant(text), text).toEqual(['read']);
  });

  it('is told in a sentence', () => {
    const text = (typed: string): string => {
      const read = readChord(typed);
      return read.ok ? '' : chordFaultText(read.error);
    };
    expect(text('H7')).toBe(
      '“H7” at place 1 is not understood; a chord begins with a letter from A to G. ' +
        'It is written the German way, whose B is B♭ here. Did you mean B7?',
    );
    expect(text('Do')).toBe(
      '“Do” is written with the syllables do, re, mi. Did you mean C or Ddim?',
    );
    expect(text('V7')).toMatch(/It is a degree of a key, here of C\. Did you mean G7\?$/);
  });
});
