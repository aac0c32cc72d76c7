import { describe, expect, it } from 'vitest';
import { intervalName } from '$lib/theory/intervalName';
import { nameText, parseNoteName, type NoteName } from '$lib/theory/pitch';
import {
  commonRoot,
  fifthsBetween,
  keyText,
  movedByFifths,
  nameInKey,
  readKey,
  rootInKey,
  type Key,
} from '$lib/theory/spelling';

const key = (text: string): Key => {
  const result = readKey(text);
  if (!result.ok) throw new Error(text);
  return result.value;
};
const ALL = [0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11];
const names = (text: string): string =>
  ALL.map((chroma) => nameText(nameInKey(chroma, key(text)))).join(' ');

describe('spelling', () => {
  it('by habit where there is no key', () => {
    const roots = (type: string): string =>
      ALL.map((chroma) => nameText(commonRoot(chroma, type))).join(' ');
    expect(roots('maj7')).toBe('C Db D Eb E F F# G Ab A Bb B');
    expect(roots('m7')).toBe('C C# D Eb E F F# G G# A Bb B');
    for (const type of ['dim7', 'm(maj7)', 'madd9']) expect(roots(type)).toBe(roots('m'));
    // D♯ F♯ A C♯ is the seventh degree of E and the second of C♯ minor; E♭ G♭ B♭♭ D♭ is in no key with a signature
    for (const type of ['m7b5', 'm9b5', 'dim'])
      expect(roots(type)).toBe('C C# D D# E F F# G G# A Bb B');
  });

  it('by the key: twelve neighbours on the line of fifths', () => {
    // Written out by hand from F C G D A E B and its sharps and flats.
    expect(names('C')).toBe('C Db D Eb E F F# G Ab A Bb B');
    expect(names('Eb')).toBe('C Db D Eb Fb F Gb G Ab A Bb Cb');
    expect(names('A')).toBe('C C# D D# E F F# G G# A Bb B');
    expect(names('Am')).toBe('C C# D Eb E F F# G G# A Bb B');
    expect(names('Cm')).toBe('C Db D Eb E F Gb G Ab A Bb B');
  });

  it('gives each key twelve different sounds, its own scale among them', () => {
    for (const tonic of [
      'Cb',
      'Gb',
      'Db',
      'Ab',
      'Eb',
      'Bb',
      'F',
      'C',
      'G',
      'D',
      'A',
      'E',
      'B',
      'F#',
      'C#',
    ]) {
      expect(new Set(names(tonic).split(' ')).size, tonic).toBe(12);
      expect(names(tonic).split(' ')).toContain(tonic);
    }
  });

  it('of diminished chords in major by the degree that they lead to, and of others by the key', () => {
    const roots = (text: string, type: string): string =>
      ALL.map((chroma) => nameText(rootInKey(chroma, type, key(text)))).join(' ');
    // the leading notes of ii, iii, V, vi and vii (any textbook of harmony)
    expect(roots('C', 'dim7')).toBe('C C# D D# E F F# G G# A A# B');
    expect(roots('Bb', 'm7b5')).toBe('C C# D Eb E F F# G G# A Bb B');
    // E sharp and B sharp, of F sharp and C sharp minor, are written as their naturals
    expect(roots('E', 'dim')).toBe('C C# D D# E F F# G G# A A# B');
    for (const type of ['', '7', 'm7', 'maj7']) expect(roots('C', type)).toBe(names('C'));
    // in minor the raised sixth and seventh are in the key already
    expect(roots('Cm', 'dim7')).toBe(names('Cm'));
  });

  it('along the line of fifths, by the usual name where three sharps would be needed', () => {
    const note = (text: string): NoteName => {
      const name = parseNoteName(text);
      if (!name) throw new Error(text);
      return name;
    };
    const moved = (text: string, fifths: number): string =>
      nameText(movedByFifths(note(text), fifths));
    // a tone up, a tone down, a semitone up
    expect([moved('Eb', 2), moved('F#', -2), moved('E', -5)]).toEqual(['F', 'E', 'F']);
    expect([moved('F#', 7), moved('Bb', -7)]).toEqual(['F##', 'Bbb']);
    expect([moved('F##', 7), moved('Bbb', -7)]).toEqual(['Ab', 'Ab']);
    expect(fifthsBetween(note('D'), note('A'))).toBe(1);
    expect(fifthsBetween(note('G'), note('Bb'))).toBe(-3);
  });

  it('reads keys, and refuses those nobody writes', () => {
    for (const text of ['Eb', 'E♭', 'Eb major', 'eb maj']) expect(keyText(key(text))).toBe('Eb');
    for (const text of ['F#m', 'F# minor', 'F♯ min']) expect(keyText(key(text))).toBe('F#m');
    for (const text of ['', 'H', 'G# major', 'Fbm', 'C dorian'])
      expect(readKey(text).ok).toBe(false);
  });
});

describe('intervals', () => {
  it.each([
    [60, 64, 'major third'],
    [60, 67, 'perfect fifth'],
    [60, 66, 'tritone'],
    [60, 75, 'minor tenth'],
    [60, 60, 'unison'],
    [72, 60, 'octave'],
    [48, 72, 'two octaves'],
    [48, 75, 'two octaves and a minor third'],
    [36, 72, 'three octaves'],
  ])('%i to %i is a %s', (low, high, name) => {
    expect(intervalName(low, high)).toBe(name);
  });
});
