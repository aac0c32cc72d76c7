/** Scales by name and by chord, against steps and spellings from textbooks of harmony. */
import { describe, expect, it } from 'vitest';
import { degreeChroma } from '$lib/theory/degrees';
import { chromasIn } from '$lib/theory/pcset';
import { nameText } from '$lib/theory/pitch';
import { readChord } from '$lib/theory/readChord';
import {
  SCALE_TYPES,
  USUAL_SCALES,
  nextInScale,
  readScale,
  scaleOfChord,
  scaleTypeNamed,
  type Scale,
} from '$lib/theory/scales';
import { parseKey } from '$lib/theory/spelling';

/**
 * Semitones from each note to the next, up to the octave: as any textbook of scales has them, typed from
 * memory and not from the dictionary.
 */
const STEPS: Readonly<Record<string, string>> = {
  major: '2212221',
  dorian: '2122212',
  phrygian: '1222122',
  lydian: '2221221',
  mixolydian: '2212212',
  minor: '2122122',
  locrian: '1221222',
  'harmonic minor': '2122131',
  'melodic minor': '2122221',
  'harmonic major': '2212131',
  'major pentatonic': '22323',
  'minor pentatonic': '32232',
  'minor blues': '321132',
  'major blues': '211323',
  'whole tone': '222222',
  diminished: '21212121',
  'half-whole diminished': '12121212',
  augmented: '313131',
  chromatic: '111111111111',
  bebop: '22122111',
  'bebop major': '22121121',
  // modes of melodic minor: begun on its second, third, fourth, fifth, sixth and seventh note
  'dorian b2': '1222212',
  'lydian augmented': '2222121',
  'lydian dominant': '2221212',
  'mixolydian b6': '2212122',
  'locrian #2': '2121222',
  altered: '1212222',
  // modes of harmonic minor
  'locrian 6': '1221312',
  'dorian #4': '2131212',
  'phrygian dominant': '1312122',
  'lydian #9': '3121221',
  'double harmonic major': '1312131',
  'hungarian minor': '2131131',
};

const scale = (text: string, key?: string): Scale => {
  const read = readScale(text, key === undefined ? undefined : parseKey(key));
  if (!read.ok) throw new Error(`${text}: ${read.error.allowed}`);
  return read.value;
};
const notes = (text: string, key?: string): string =>
  scale(text, key)
    .tones.map(({ name }) => nameText(name))
    .join(' ');

describe('a scale by its name', () => {
  it.each(Object.entries(STEPS))('%s goes in the steps %s', (name, steps) => {
    expect([...steps].reduce((sum, step) => sum + Number(step), 0)).toBe(12);
    const degrees = scaleTypeNamed(name)?.degrees.map(degreeChroma) ?? [];
    const gaps = degrees.map((degree, at) => (degrees[at + 1] ?? 12) - degree);
    expect(gaps.join('')).toBe(steps);
  });

  it('offers only names that the dictionary has', () => {
    for (const name of USUAL_SCALES) expect(scaleTypeNamed(name)?.name, name).toBe(name);
  });

  it('has every type of the dictionary on every root, from the root on and each note once', () => {
    for (const { name } of SCALE_TYPES)
      for (const root of ['C', 'F#', 'Bb']) {
        const { tones, pitchClasses } = scale(`${root} ${name}`);
        expect(nameText(tones[0]?.name ?? { letter: 'C', alter: 2 }), name).toBe(root);
        expect([...tones.map(({ chroma }) => chroma)].sort((a, b) => a - b)).toEqual(
          chromasIn(pitchClasses),
        );
      }
  });

  // spellings: one letter a degree in scales of seven notes, as textbooks write them
  it.each([
    ['G mixolydian', 'G A B C D E F'],
    ['E♭ major', 'Eb F G Ab Bb C D'],
    ['F# minor', 'F# G# A B C# D E'],
    ['A harmonic minor', 'A B C D E F G#'],
    ['C minor blues', 'C Eb F Gb G Bb'],
    ['c minor pentatonic', 'C Eb F G Bb'],
    ['D Dorian scale', 'D E F G A B C'],
    ['C octatonic', 'C D Eb F Gb Ab A B'],
    // the seventh would be F double sharp: no double accidental where a plain name serves
    ['G# harmonic minor', 'G# A# B C# D# E G'],
  ])('%s is %s', (text, expected) => {
    expect(notes(text)).toBe(expected);
  });

  it('says what is not understood, and what may have been meant', () => {
    const read = readScale('G mixo');
    expect(read.ok ? undefined : read.error).toEqual({
      found: 'mixo',
      allowed: 'a root and the name of a scale, such as G mixolydian, or a chord, such as G7',
      meant: ['G mixolydian', 'G mixolydian pentatonic', 'G mixolydian b6'],
    });
    for (const text of ['', 'H', 'major', 'N.C.', 'G?'])
      expect(readScale(text).ok, text).toBe(false);
  });
});

describe('the scale of a chord', () => {
  // chord scales as textbooks of jazz harmony pair them: common practice, from memory
  it.each([
    ['C', 'C major'],
    ['Cmaj7', 'C major'],
    ['C6', 'C major'],
    ['G7', 'G mixolydian'],
    ['G9sus4', 'G mixolydian'],
    ['Dm7', 'D dorian'],
    ['Am', 'A dorian'],
    ['Am(maj7)', 'A melodic minor'],
    ['Bm7b5', 'B locrian'],
    ['Cmaj7#11', 'C lydian'],
    ['F7#11', 'F lydian dominant'],
    ['G7#5', 'G whole tone'],
    ['E7b9', 'E phrygian dominant'],
    ['G7#9', 'G half-whole diminished'],
    ['B°7', 'B diminished'],
    ['G7alt', 'G altered'],
  ])('%s goes with %s', (symbol, name) => {
    expect(scale(symbol).name).toBe(name);
  });

  // the modes of a key: each degree's chord has the key's own notes
  it.each([
    ['Em7', 'C', 'E phrygian'],
    ['Am', 'C', 'A minor'],
    ['F', 'C', 'F lydian'],
    ['D7', 'C', 'D mixolydian'],
    ['Dm7b5', 'Cm', 'D locrian'],
  ])('%s in %s goes with %s', (symbol, key, name) => {
    expect(scale(symbol, key).name).toBe(name);
  });

  it('has every tone of its chord', () => {
    for (const symbol of [
      'C13b9',
      'Cmaj9#11',
      'Cm11',
      'C+',
      'Cm7b5',
      'C7b5b9',
      'Caug(maj7)',
      'C/D',
    ]) {
      const read = readChord(symbol);
      if (!read.ok || read.value === 'no chord') continue;
      const { pitchClasses } = scaleOfChord(read.value);
      for (const { chroma, role } of read.value.tones)
        if (role !== 'bass') expect(pitchClasses & (1 << chroma), symbol).not.toBe(0);
    }
  });
});

it('steps from note to note', () => {
  // G mixolydian: G4 is 67, A4 69, F4 65
  expect(nextInScale(scale('G mixolydian'), 67)).toBe(69);
  expect(nextInScale(scale('G mixolydian'), 67, -1)).toBe(65);
});
