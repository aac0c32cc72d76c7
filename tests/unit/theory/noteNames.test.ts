/**
 * Note names of other countries. German names and solfège syllables as any music primer has them; the
 * table of twelve is from memory (common practice).
 */
import { describe, expect, it } from 'vitest';
import { CHORD_TYPES } from '$lib/theory/chordTypes';
import { prettyPitch, prettySymbol, spokenName } from '$lib/theory/display';
import { writtenName, type NoteNames } from '$lib/theory/noteNames';
import { chordInLetters, keyInLetters, noteTextInLetters } from '$lib/theory/typedNames';
import { LETTERS, nameText, noteName, parseNoteName, parsePitch } from '$lib/theory/pitch';
import { readChord, readChordInKey } from '$lib/theory/readChord';
import { parseKey } from '$lib/theory/spelling';
import { battery } from '../../battery';

const inLetters = (text: string, names: NoteNames): string => {
  const read = chordInLetters(text, names);
  return 'letters' in read ? read.letters : `? ${read.readings.join(' ')}`;
};

const WRITTEN: readonly (readonly [string, string, string])[] = [
  ['C', 'C', 'Do'],
  ['C#', 'Cis', 'Do♯'],
  ['Db', 'Des', 'Re♭'],
  ['D', 'D', 'Re'],
  ['D#', 'Dis', 'Re♯'],
  ['Eb', 'Es', 'Mi♭'],
  ['E', 'E', 'Mi'],
  ['F', 'F', 'Fa'],
  ['F#', 'Fis', 'Fa♯'],
  ['Gb', 'Ges', 'Sol♭'],
  ['G', 'G', 'Sol'],
  ['G#', 'Gis', 'Sol♯'],
  ['Ab', 'As', 'La♭'],
  ['A', 'A', 'La'],
  ['Bb', 'B', 'Si♭'],
  ['B', 'H', 'Si'],
  ['Cb', 'Ces', 'Do♭'],
  ['B#', 'His', 'Si♯'],
  ['Ebb', 'Eses', 'Mi𝄫'],
  ['Abb', 'Ases', 'La𝄫'],
  ['Bbb', 'Heses', 'Si𝄫'],
  ['F##', 'Fisis', 'Fa𝄪'],
];

describe('names of notes', () => {
  it.each(WRITTEN)('%s is %s in German and %s in solfège', (letters, german, solfege) => {
    const name = parseNoteName(letters) ?? noteName('C', 0);
    expect(writtenName(name, 'german')).toBe(german);
    expect(writtenName(name, 'solfege')).toBe(solfege);
    expect(inLetters(german, 'german')).toBe(letters);
    expect(inLetters(solfege, 'solfege')).toBe(letters);
  });

  const SYMBOLS = LETTERS.flatMap((letter) =>
    [-2, -1, 0, 1, 2].flatMap((alter) =>
      CHORD_TYPES.flatMap(({ suffix }) =>
        ['', '/E', '/Bb', '/B', '/A'].map((bass) => nameText({ letter, alter }) + suffix + bass),
      ),
    ),
  );
  battery(
    'are read back with every chord type and bass, whatever they are',
    { slice: 1000, whole: SYMBOLS.length },
    ({ of }) => {
      for (const symbol of of(SYMBOLS))
        for (const names of ['letters', 'german', 'solfege'] as const) {
          const written = prettySymbol(symbol, names);
          const [there, here] = [inLetters(written, names), symbol].map((text) => {
            const read = readChord(text);
            return read.ok && read.value !== 'no chord' ? read.value.symbol : text;
          });
          expect(there, written).toBe(here);
        }
    },
  );

  it('stand in pitches and in words', () => {
    const pitch = parsePitch('Bb3');
    expect(pitch && prettyPitch(pitch, 'german')).toBe('B3');
    expect(spokenName(noteName('F', 1), 'solfege')).toBe('Fa sharp');
    expect(spokenName(noteName('E', -1), 'german')).toBe('Es');
  });
});

describe('what is typed', () => {
  it.each([
    ['H7', 'B7'],
    ['B7', 'Bb7'],
    ['Bb7', 'Bb7'],
    ['Es', 'Eb'],
    ['Esus4', 'Esus4'],
    ['Essus4', 'Ebsus4'],
    ['Asus2', 'Asus2'],
    ['Assus2', 'Absus2'],
    ['Fis/Ais', 'F#/A#'],
    ['D/Fis', 'D/F#'],
    ['C/H', 'C/B'],
    ['C/B', 'C/Bb'],
    ['C6/9', 'C6/9'],
    ['F#m7', 'F#m7'],
    ['fism7', 'F#m7'],
    ['C E G H', 'C E G B'],
    ['c e g b', 'C E G Bb'],
    ['Es4 G4 B4', 'Eb4 G4 Bb4'],
    // a small letter says minor to one and nothing to another
    ['h', '? Bm B'],
    ['fis', '? F#m F#'],
    ['a7', '? Am7 A7'],
  ])('in German %s is %s', (typed, letters) => {
    expect(inLetters(typed, 'german')).toBe(letters);
  });

  it.each([
    ['Do', 'C'],
    ['Do7', 'C7'],
    ['La m', 'Am'],
    ['Lam7', 'Am7'],
    ['Sib7', 'Bb7'],
    ['Si♭maj7', 'Bbmaj7'],
    ['sol#m/re#', 'G#m/D#'],
    ['Ré', 'D'],
    ['Do Mi Sol Sib', 'C E G Bb'],
    ['Do4 Mi4 Sol4', 'C4 E4 G4'],
    // no syllable: letters are read as letters
    ['Am7', 'Am7'],
  ])('in solfège %s is %s', (typed, letters) => {
    expect(inLetters(typed, 'solfege')).toBe(letters);
  });

  it.each(['C', 'B7', 'Do', 'Es', 'h', 'C E G'])('in letters %s stays as it is', (typed) => {
    expect(inLetters(typed, 'letters')).toBe(typed);
  });

  it.each([
    ['h-Moll', 'german', 'Bm'],
    ['Es-Dur', 'german', 'Eb'],
    ['B', 'german', 'Bb'],
    ['fis', 'german', 'F#m'],
    ['La m', 'solfege', 'Am'],
    ['Sib', 'solfege', 'Bb'],
    ['Eb', 'letters', 'Eb'],
  ] as const)('as a key %s (%s) is %s', (typed, names, letters) => {
    expect(keyInLetters(typed, names)).toBe(letters);
    expect(parseKey(keyInLetters(typed, names))).toBeDefined();
  });

  it('is a note with its octave', () => {
    expect(noteTextInLetters('H3', 'german')).toBe('B3');
    expect(noteTextInLetters('Sol#4', 'solfege')).toBe('G#4');
    expect(noteTextInLetters('E', 'german')).toBe('E');
  });
});

describe('degrees of a key', () => {
  const read = (text: string, key?: string): string => {
    const chord = readChordInKey(text, key === undefined ? undefined : parseKey(key));
    return chord.ok && chord.value !== 'no chord' ? chord.value.symbol : 'refused';
  };

  // the degrees of the scale, as harmony textbooks and number charts write them
  it.each([
    ['V7', 'G', 'D7'],
    ['ii', 'G', 'Am'],
    ['ii7', 'G', 'Am7'],
    ['IV', 'Eb', 'Ab'],
    ['Imaj7', 'D', 'Dmaj7'],
    ['bVII', 'E', 'D'],
    ['♭VII', 'E', 'D'],
    ['vii°', 'C', 'Bdim'],
    ['viiø', 'C', 'Bm7b5'],
    ['i', 'Am', 'Am'],
    ['VI', 'Am', 'F'],
    ['V7/V', 'C', 'D7'],
    ['V7/ii', 'C', 'A7'],
    ['vii°/vi', 'C', 'G#dim'],
    ['1', 'G', 'G'],
    ['4', 'G', 'C'],
    ['6-', 'G', 'Em'],
    ['5/7', 'G', 'D/F#'],
    ['57', 'A', 'E7'],
  ])('%s in %s is %s', (text, key, symbol) => {
    expect(read(text, key)).toBe(symbol);
  });

  it('are refused where there is no key, and where a number says two things', () => {
    expect(read('V7')).toBe('refused');
    // charts of numbers write 2, others 2-, for the minor chord
    expect(read('2', 'C')).toBe('refused');
    expect(read('VIII', 'C')).toBe('refused');
    // letters stay letters
    expect(read('D', 'C')).toBe('D');
    expect(read('b7', 'C')).toBe('B7');
  });
});
