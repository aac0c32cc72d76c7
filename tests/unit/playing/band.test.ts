/**
 * What a rhythm section plays, against what is written in the trade's teaching: common practice from memory,
 * each said where it stands. Times are worked out by hand from the tempo.
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { inOrder } from '$lib/arrange/inOrder';
import type { Piece } from '$lib/arrange/piece';
import { readProgression } from '$lib/arrange/readText';
import { bandOf, countInOf, type BandAsked, type BandNote } from '$lib/playing/band/band';
import { FEEL_NAMES, type FeelName } from '$lib/playing/band/feels';
import { runs } from '../../battery';
import { anyPiece } from '../../property/anyPiece';
import { SEED } from '../../seed';

function pieceIn(text: string): Piece {
  const { piece, faults } = readProgression(text);
  if (piece === undefined || faults.length > 0) throw new Error(JSON.stringify(faults));
  return piece;
}

const played = (text: string, feel: FeelName, more: Partial<BandAsked> = {}): readonly BandNote[] =>
  bandOf({ piece: pieceIn(text), feel, ...more }).notes;

const rounded = (seconds: number): number => Math.round(seconds * 1000) / 1000;
/** Seconds and MIDI numbers of the bass. */
const bass = (notes: readonly BandNote[]): [number, number][] =>
  notes.flatMap((note) =>
    note.part === 'bass' ? [[rounded(note.at), note.midi] as [number, number]] : [],
  );
const chords = (notes: readonly BandNote[]): [number, number[]][] => {
  const at = new Map<number, number[]>();
  for (const note of notes)
    if (note.part === 'chords')
      at.set(rounded(note.at), [...(at.get(rounded(note.at)) ?? []), note.midi]);
  return [...at];
};
const drum = (notes: readonly BandNote[], name: string): number[] =>
  notes.flatMap((note) => (note.part === 'drums' && note.drum === name ? [rounded(note.at)] : []));
const clicks = (notes: readonly BandNote[]): [number, number][] =>
  notes.flatMap((note) =>
    note.part === 'click' || note.part === 'count'
      ? [[rounded(note.at), note.level] as [number, number]]
      : [],
  );

// a quarter note is half a second
const AT_120 = 'tempo: 120\n';
// MIDI numbers: E1 28, F1 29, G1 31, A1 33, C2 36, D2 38
describe('the feels', () => {
  it('two-beat: the bass has the root on 1 and the fifth on 3, chords and snare answer on 2 and 4', () => {
    const notes = played(`${AT_120}C`, 'two-beat');
    expect(bass(notes)).toEqual([
      [0, 36],
      [1, 31],
    ]);
    expect(chords(notes).map(([at]) => at)).toEqual([0.5, 1.5]);
    expect(drum(notes, 'kick')).toEqual([0, 1]);
    expect(drum(notes, 'snare')).toEqual([0.5, 1.5]);
  });

  it('waltz: the bass on 1, chords on 2 and 3; a chord that stays has its fifth every other measure', () => {
    const notes = played('tempo: 120\nmetre: 3/4\nC | C | F', 'waltz');
    expect(bass(notes)).toEqual([
      [0, 36],
      [1.5, 31],
      [3, 29],
    ]);
    expect(chords(notes).map(([at]) => at)).toEqual([0.5, 1, 2, 2.5, 3.5, 4]);
  });

  it('bossa nova: the bass on 1, 2-and, 3, 4-and; the side stick is its clave of two measures', () => {
    const notes = played(`${AT_120}C | C`, 'bossa nova');
    expect(bass(notes).slice(0, 4)).toEqual([
      [0, 36],
      [0.75, 31],
      [1, 31],
      [1.75, 36],
    ]);
    // 1, 2-and, 4; then 2, 3-and
    expect(drum(notes, 'side stick')).toEqual([0, 0.75, 1.5, 2.5, 3.25]);
  });

  it('swing: the ride goes ding, ding-a, with the short note on the last third of the beat', () => {
    const notes = played(`${AT_120}C`, 'swing');
    expect(drum(notes, 'ride')).toEqual([0, 0.5, 0.833, 1, 1.5, 1.833]);
    expect(drum(notes, 'foot hat')).toEqual([0.5, 1.5]);
    expect(bass(notes).map(([at]) => at)).toEqual([0, 0.5, 1, 1.5]);
  });

  it('shuffle: long and short as two thirds and one, the snare on 2 and 4', () => {
    const notes = played(`${AT_120}C`, 'shuffle');
    expect(drum(notes, 'closed hat')).toEqual([0, 0.333, 0.5, 0.833, 1, 1.333, 1.5, 1.833]);
    expect(drum(notes, 'snare')).toEqual([0.5, 1.5]);
  });

  it('12/8 ballad: three to the beat, whether it is written in 12/8 or in 4/4', () => {
    // a beat of 12/8 is a dotted quarter: three quarter notes a second at 180
    const compound = played('tempo: 180\nmetre: 12/8\nC', '12/8 ballad');
    const simple = played(`${AT_120}C`, '12/8 ballad');
    for (const notes of [compound, simple]) {
      const hats = drum(notes, 'closed hat');
      expect(hats.slice(0, 4)).toEqual([0, 0.167, 0.333, 0.5]);
      expect(hats).toHaveLength(12);
      expect(drum(notes, 'snare')).toEqual([0.5, 1.5]);
    }
  });

  it('train beat: the snare never rests, and its accents fall between the beats', () => {
    const notes = played(`${AT_120}C`, 'train beat');
    expect(drum(notes, 'snare')).toHaveLength(16);
    const accents = notes.filter((note) => note.part === 'drums' && note.level === 1);
    expect(accents.map(({ at }) => rounded(at))).toEqual([0.25, 0.75, 1.25, 1.75]);
  });

  it('straight eighths and four to the bar: eighths on the hat; chords on every beat', () => {
    expect(drum(played(`${AT_120}C`, 'straight eighths'), 'closed hat')).toEqual(
      [0, 1, 2, 3, 4, 5, 6, 7].map((eighth) => eighth / 4),
    );
    expect(chords(played(`${AT_120}C`, 'four to the bar')).map(([at]) => at)).toEqual([
      0, 0.5, 1, 1.5,
    ]);
  });
});

describe('what the band follows', () => {
  it('plays the note after a slash in the bass', () => {
    expect(bass(played(`${AT_120}C/E | F/G`, 'two-beat'))).toEqual([
      [0, 28],
      [1, 31],
      [2, 31],
      [3, 36],
    ]);
  });

  it('gives every chord its bass where it begins, between the notes of the grid too', () => {
    // the second chord begins on beat 2, where a two-beat bass would be silent
    const notes = played(`${AT_120}C F . G`, 'two-beat');
    expect(bass(notes)).toContainEqual([0.5, 29]);
    expect(bass(notes)).toContainEqual([1.5, 31]);
  });

  it('leads to the next chord by a semitone, and nowhere where the chord stays', () => {
    const notes = bass(played(`${AT_120}C | F | F`, 'shuffle'));
    // beat 4 of the first measure: E1 or F#1 before F1
    expect([28, 30]).toContain(notes[3]?.[1]);
    expect(notes[4]).toEqual([2, 29]);
    // the third of F, below the fifth
    expect(notes[7]?.[1]).toBe(33);
  });

  it('leads back to the beginning where it goes round', () => {
    const round = bass(played(`${AT_120}F | C`, 'shuffle', { round: true }));
    expect([28, 30]).toContain(round.at(-1)?.[1]);
  });

  it('is still under no chord, all but the drums', () => {
    const notes = played(`${AT_120}C | N.C. | C`, 'two-beat');
    const middle = notes.filter(({ at }) => at >= 2 && at < 4);
    expect(middle.some(({ part }) => part === 'drums')).toBe(true);
    expect(middle.filter(({ part }) => part === 'bass' || part === 'chords')).toEqual([]);
  });

  it('waits through a pickup, and counts one in', () => {
    const text = 'tempo: 120\npickup: 1/4\nG7 | C | C';
    const notes = played(text, 'two-beat');
    expect(notes.filter(({ part, at }) => part !== 'click' && at < 0.5)).toEqual([]);
    expect(bass(notes)[0]).toEqual([0.5, 36]);
    expect(clicks(notes).slice(0, 2)).toEqual([
      [0, 0.5],
      [0.5, 1],
    ]);
    // a whole measure, and the three beats before the pickup
    const counted = countInOf(pieceIn(text));
    expect(counted.length).toBeCloseTo(3.5);
    expect(clicks(counted.notes).map(([, level]) => level)).toEqual([
      1, 0.5, 0.5, 0.5, 1, 0.5, 0.5,
    ]);
  });

  it('goes along with another metre and another tempo', () => {
    const notes = played('tempo: 120\nC\nmetre: 3/4\nF\ntempo: 60\nG', 'two-beat');
    expect(clicks(notes)).toEqual([
      [0, 1],
      [0.5, 0.5],
      [1, 0.5],
      [1.5, 0.5],
      [2, 1],
      [2.5, 0.5],
      [3, 0.5],
      [3.5, 1],
      [4.5, 0.5],
      [5.5, 0.5],
    ]);
  });

  it('plays a part of the piece from its own beginning, and repeats as they are played', () => {
    const text = `${AT_120}|: C | F :| G`;
    // C F C F G
    expect(
      bass(played(text, 'two-beat'))
        .filter((_, at) => at % 2 === 0)
        .map(([, midi]) => midi),
    ).toEqual([36, 29, 36, 29, 31]);
    const part = bandOf({ piece: pieceIn(text), feel: 'two-beat', part: [3, 5] });
    expect(part.length).toBeCloseTo(4);
    expect(bass(part.notes)[0]).toEqual([0, 29]);
  });

  it('is moved to another key by semitones', () => {
    const moved = played(`${AT_120}C7 | F/A`, 'two-beat', { transposed: 2 });
    expect(moved).toEqual(played(`${AT_120}D7 | G/B`, 'two-beat'));
  });

  it('voices the chord tones that tell the chord, and moves little from chord to chord', () => {
    const [[, first = []] = [], [, second = []] = []] = chords(
      played(`${AT_120}Dm9 | G13`, 'two-beat'),
    );
    const third = (notes: readonly number[], chroma: number): boolean =>
      notes.some((midi) => midi % 12 === chroma);
    // F and C of Dm9
    expect(third(first, 5) && third(first, 0)).toBe(true);
    for (const midi of second)
      expect(Math.min(...first.map((each) => Math.abs(each - midi)))).toBeLessThanOrEqual(4);
  });
});

describe('for any piece and every feel', () => {
  const given = fc.record({
    piece: anyPiece,
    feel: fc.constantFrom(...FEEL_NAMES),
    seed: fc.nat(1000),
    transposed: fc.integer({ min: -11, max: 11 }),
  });

  it('comps nothing but tones of the chord that sounds, in the middle, and ends with it', () => {
    fc.assert(
      fc.property(given, ({ piece, feel, seed, transposed }) => {
        const { moments } = inOrder(piece, 60);
        const { notes } = bandOf({ piece, feel, seed, transposed });
        for (const note of notes) {
          if (note.part !== 'chords') continue;
          const under = moments.findLast(({ seconds }) => seconds <= note.at + 1e-6);
          if (under === undefined || under.chord === 'no chord') throw new Error('no chord there');
          const { symbol } = under.chord;
          const tones = under.chord.tones.map(({ chroma }) => (chroma + transposed + 24) % 12);
          expect(tones).toContain(note.midi % 12);
          expect(note.midi).toBeGreaterThanOrEqual(48);
          expect(note.midi).toBeLessThanOrEqual(69);
          // a chord that is written again goes on
          const other = moments.find(
            ({ chord, seconds, lastsSeconds }) =>
              seconds > under.seconds &&
              lastsSeconds > 1e-6 &&
              (chord === 'no chord' || chord.symbol !== symbol),
          );
          expect(note.at + note.lasts).toBeLessThanOrEqual((other?.seconds ?? Infinity) + 1e-6);
        }
      }),
      { numRuns: runs(30, 600), seed: SEED },
    );
  });

  it('has the bass of each new chord where it begins, the note after a slash before the root', () => {
    fc.assert(
      fc.property(given, ({ piece, feel, seed }) => {
        const { notes } = bandOf({ piece, feel, seed });
        const lows: Readonly<Record<string, number>> = { C: 0, Am7: 9, G7: 7, 'F/A': 9 };
        const pickup =
          (piece.measures[0]?.lasts ?? 4) < 4 ? (inOrder(piece).measures[0]?.lastsSeconds ?? 0) : 0;
        let before = '';
        for (const { chord, seconds, lastsSeconds } of inOrder(piece).moments) {
          const symbol = chord === 'no chord' ? '' : chord.symbol;
          const goesOn = symbol === before;
          if (lastsSeconds > 1e-6) before = symbol;
          if (goesOn || chord === 'no chord' || seconds < pickup - 1e-6 || lastsSeconds < 1e-6)
            continue;
          const at = notes.filter(
            (note) => note.part === 'bass' && Math.abs(note.at - seconds) < 1e-6,
          );
          expect(at.map((note) => ('midi' in note ? note.midi % 12 : -1))).toEqual([
            lows[chord.symbol],
          ]);
        }
      }),
      { numRuns: runs(30, 600), seed: SEED },
    );
  });

  it('plays the same for the same seed, in order, and within its length', () => {
    fc.assert(
      fc.property(given, (asked) => {
        const { notes, length } = bandOf(asked);
        expect(bandOf(asked).notes).toEqual(notes);
        let before = 0;
        for (const { at, lasts } of notes) {
          expect(at).toBeGreaterThanOrEqual(before);
          expect(lasts).toBeGreaterThan(0);
          before = at;
        }
        expect(before).toBeLessThan(length);
      }),
      { numRuns: runs(30), seed: SEED },
    );
  });
});
