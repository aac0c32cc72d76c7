/** Keys and transposing; spellings by counting letters, as every theory primer does. */
import { describe, expect, it } from 'vitest';
import { noteName, type NoteName } from '$lib/theory/pitch';
import { keyText } from '$lib/theory/spelling';
import { keyOf } from '$lib/arrange/findKey';
import { readProgression } from '$lib/arrange/readText';
import { nearestFifths, transposed, transposedTo } from '$lib/arrange/transposed';
import { pieceOf } from '$lib/arrange/pieceOf';
import { writePiece } from '$lib/arrange/writeText';

const read = (text: string) => readProgression(text).progression;
const key = (text: string): string => keyText(keyOf(read(text)));
const by = (text: string, semitones: number): string =>
  writePiece(pieceOf(transposed(read(text), semitones))).trim();
const to = (text: string, tonic: NoteName): string =>
  writePiece(pieceOf(transposedTo(read(text), tonic))).trim();

describe('the key', () => {
  it.each([
    ['C | Am7 | Dm7 G7 | C', 'C'],
    ['Dm7 | G7 | Cmaj7', 'C'],
    ['Eb | Ab | Bb7 | Eb', 'Eb'],
    ['Am | Dm | E7 | Am', 'Am'],
    ['F#m | Bm | C#7 | F#m', 'F#m'],
    ['G | C | D7 | G', 'G'],
    ['N.C.', 'C'],
    // as the piece writes it, whatever else its tonic is called
    ['N.C. | Gb | Cb | Db7 | Gb', 'Gb'],
    ['D#m | G#m | A#7 | D#m', 'D#m'],
    ['Ebm | Abm | Bb7 | Ebm', 'Ebm'],
    // G sharp major and D flat minor would need eight signs
    ['G# | C# | D#7 | G#', 'Ab'],
    ['Dbm | Gbm | Ab7 | Dbm', 'C#m'],
  ])('of %s is %s', (text, expected) => {
    expect(key(text)).toBe(expected);
  });
  it('is the given one where one is given', () => {
    expect(key('key: G\nC | F | C')).toBe('G');
  });
});

describe('transposing', () => {
  it('keeps the letters of every interval', () => {
    expect(by('key: C\nC:E4 | Am7 | F#m7b5 | G/B', 3)).toBe('key: Eb\nEb:G4 | Cm7 | Am7b5 | Bb/D');
    expect(by('C | E7 | Am | G7b9 C', 2)).toBe('D | F#7 | Bm | A7b9 D');
  });
  it('moves the melody by the same semitones, over the octave too', () => {
    expect(by('C:B4 | G:C5 | C:E', -1)).toBe('B:A#4 | F#:B4 | B:D#');
  });
  it('goes to a key the nearest way', () => {
    expect(to('C:C5 | G7:B4', noteName('G', 0))).toBe('G:G4 | D7:F#4');
    expect(to('C:C5 | G7:B4', noteName('D', -1))).toBe('Db:Db5 | Ab7:C5');
    expect(to('C:C5 | G7:B4', noteName('C', 1))).toBe('C#:C#5 | G#7:B#4');
  });
  it('leads to the key that is usually written, in minor too', () => {
    // B♭ minor has five flats where A♯ minor has seven sharps, G♯ minor five sharps where A♭ minor has seven flats
    expect(by('Am | Dm | E7 | Am', 1)).toBe('Bbm | Ebm | F7 | Bbm');
    expect(by('Am | Dm | E7 | Am', -1)).toBe('G#m | C#m | D#7 | G#m');
    expect(by('C | N.C. | G7 | C', 8)).toBe('Ab | N.C. | Eb7 | Ab');
  });
  it('takes a bass that is no tone of its chord along', () => {
    expect(by('C | C/F# | G7 | C', 2)).toBe('D | D/G# | A7 | D');
  });
  it('goes along the line of fifths by the fewest', () => {
    // C G D … upwards, F B♭ … downwards
    expect([0, 7, 2, 5, 10, 1, 6, 11, -5].map(nearestFifths)).toEqual([
      0, 1, 2, -1, -2, -5, 6, 5, 1,
    ]);
  });
  it('there and back changes nothing', () => {
    const text = 'key: Bb\nBb:D5 | Gm7 | C7b9/E | F13 . . Bdim7';
    for (let semitones = -11; semitones <= 11; semitones++)
      expect(by(by(text, semitones), -semitones), String(semitones)).toBe(text);
  });
});
