/**
 * What a move counts: the pieces that the table of weights names, each counted by hand on an E9 neck of 610 mm
 * (fret n at 610 · (1 − 2^(−n/12))). What must hold of every move is in `tests/property/move.test.ts`.
 */
import { describe, expect, it } from 'vitest';
import { builtIn } from '$lib/setup/builtIns';
import type { Engaged } from '$lib/setup/setup';
import {
  barMm,
  barMoveTerms,
  controlChanges,
  feetMoveTerms,
  footAt,
  moveBetween,
  moveFromHome,
  needed,
  type SoundingHold,
} from '$lib/effort/move';
import { EVEN_WAY, MOVE_WEIGHTS as WEIGHTS, type MoveTerm } from '$lib/effort/weights';

const E9 = builtIn('e9');
const DOUBLE = builtIn('double');
const full = (...ids: string[]): Engaged[] => ids.map((id) => ({ id, state: 'full' }));
const half = (id: string): Engaged => ({ id, state: 'half' });
const told = (terms: readonly MoveTerm[]): string[] =>
  terms.map(({ name, value }) => `${name}: ${value.toFixed(3)}`);
const bar = (fret: number, slant = 0, neck = 1) => ({ neck, fret, slant });

describe('the bar', () => {
  it('pays for going, for the way, and for what is farther than three frets', () => {
    // half of 610 mm lies below fret 12; 610 · (1 − 2^(−3/12)) = 97.056, 610 · (1 − 2^(−4/12)) = 125.843
    expect(told(barMoveTerms(E9, bar(0), bar(12)))).toEqual([
      'the bar moves: 1.000',
      '305 mm: 1.525',
      'a leap of 12 frets: 4.500',
    ]);
    expect(told(barMoveTerms(E9, bar(3), bar(0)))).toEqual([
      'the bar moves: 1.000',
      '97 mm: 0.485',
    ]);
    expect(told(barMoveTerms(E9, bar(0), bar(4)))).toEqual([
      'the bar moves: 1.000',
      '126 mm: 0.629',
      'a leap of 4 frets: 0.500',
    ]);
    expect(barMoveTerms(E9, bar(7), bar(7))).toEqual([]);
  });

  it('pays for the way as many times as its time goes into a second, down to a tenth', () => {
    const hurry = (seconds: number): number =>
      barMoveTerms(E9, bar(12), bar(0), seconds)
        .filter(({ name }) => name.startsWith('in '))
        .reduce((sum, { value }) => sum + value, 0);
    // 305 mm · 0.005 once more in half a second, three times more in a quarter, nine times in a tenth
    expect(hurry(1)).toBe(0);
    expect(hurry(2)).toBe(0);
    expect(hurry(0.5)).toBeCloseTo(1.525, 9);
    expect(hurry(0.25)).toBeCloseTo(3 * 1.525, 9);
    expect(hurry(0.1)).toBeCloseTo(9 * 1.525, 9);
    expect(hurry(0.02)).toBeCloseTo(9 * 1.525, 9);
    expect(barMoveTerms(E9, bar(12), bar(0), 0.5).map(({ name }) => name)).toContain('in 0.5 s');
  });

  it('goes as far as the end of it that goes farther', () => {
    const at = (fret: number): number => 610 * (1 - 2 ** (-fret / 12));
    expect(barMm(E9, bar(5), bar(5, 2))).toBeCloseTo(at(7) - at(5), 9);
    expect(barMm(E9, bar(5, 2), bar(7))).toBeCloseTo(at(7) - at(5), 9);
    expect(barMm(E9, bar(5, 1), bar(6, -1))).toBeCloseTo(at(6) - at(5), 9);
  });

  it('is lifted over to another neck', () => {
    expect(told(barMoveTerms(DOUBLE, bar(3), bar(3, 0, 2)))).toEqual(['to the other neck: 2.000']);
  });
});

describe('feet and knees', () => {
  it('press, let go and change to half-stops and back', () => {
    const from = [...full('A', 'B', 'LKL'), half('RKR')];
    const to = [...full('B', 'RKR'), half('LKL'), ...full('C')];
    expect(controlChanges(from, to)).toEqual({
      pressed: full('C'),
      letGo: full('A'),
      shifted: [...full('RKR'), half('LKL')],
    });
    expect(told(feetMoveTerms(E9, { engaged: from }, { engaged: to }))).toEqual([
      'press C: 0.250',
      'let go of A: 0.250',
      'RKR to its end: 0.250',
      'LKL to its half-stop: 0.250',
      // from between the first and the second pedal to between the second and the third
      'the foot is carried along: 0.300',
    ]);
    expect(feetMoveTerms(E9, { engaged: from }, { engaged: from })).toEqual([]);
  });

  it('carry the foot by the pedals between where it stood and where it stands', () => {
    const carried = (from: Engaged[], to: Engaged[]): number =>
      feetMoveTerms(E9, { engaged: from }, { engaged: to })
        .filter(({ name }) => name === 'the foot is carried along')
        .reduce((sum, { value }) => sum + value, 0);
    expect(footAt(E9, full('A', 'B'))).toBe(1.5);
    expect(footAt(E9, full('LKL'))).toBeUndefined();
    expect(carried(full('A'), full('C'))).toBeCloseTo(2 * WEIGHTS.footPerPedal, 9);
    expect(carried(full('A'), full('A', 'B'))).toBeCloseTo(0.5 * WEIGHTS.footPerPedal, 9);
    // a foot that held no pedal has come along, and one that will hold none may stay
    expect(carried(full('LKL'), full('C'))).toBe(0);
    expect(carried(full('A'), full('LKL'))).toBe(0);
  });

  it('let stay what is not needed any more once for as much as letting go, and let it go for nothing', () => {
    const pressed = { engaged: full('A', 'B') };
    const resting = { engaged: full('A', 'B'), idle: full('A') };
    expect(needed(resting)).toEqual(full('B'));
    expect(needed(pressed)).toEqual(full('A', 'B'));
    expect(needed({ engaged: full('A', 'B', 'LKL'), idle: full('A', 'B') })).toEqual(full('LKL'));
    const feet = (from: typeof resting | typeof pressed, to: typeof from): string[] =>
      feetMoveTerms(E9, from, to).map(({ name }) => name);
    // the foot that only rests on A stands on B
    expect(feet(pressed, resting)).toEqual(['A stays', 'the foot is carried along']);
    expect(feet(resting, resting)).toEqual([]);
    expect(feet(resting, { engaged: full('B') })).toEqual([]);
    expect(feet({ engaged: full('A', 'LKL'), idle: full('A') }, { engaged: [] })).toEqual([
      'let go of LKL',
    ]);
    expect(feet(pressed, { engaged: full('B') })).toEqual([
      'let go of A',
      'the foot is carried along',
    ]);
  });
});

describe('a move', () => {
  const hold = (
    fret: number,
    engaged: Engaged[],
    sounds: readonly (readonly [string: number, pitch: number])[],
    neck = 1,
  ): SoundingHold => ({
    ...bar(fret, 0, neck),
    engaged,
    strings: sounds.map(([string]) => string),
    pitches: sounds.map(([, pitch]) => pitch),
  });
  // E9 at fret 3: B D G on strings 6, 5 and 4; with A down the D is E
  const g = hold(
    3,
    [],
    [
      [4, 67],
      [5, 62],
      [6, 59],
    ],
  );
  const bent = hold(3, full('A'), [
    [4, 67],
    [5, 64],
    [6, 59],
  ]);

  it('of one pedal is that pedal and the two semitones that it bends', () => {
    const move = moveBetween(E9, g, bent);
    expect(told(move.terms)).toEqual(['press A: 0.250', '2 semitones: 0.200']);
    expect(move).toMatchObject({ total: 0.45, bar: 0, picking: 0, feet: 0.25, voices: 0.2 });
    expect(move).toMatchObject({ barMm: 0, semitones: 2, held: [4, 5, 6] });
    expect(move.changes.pressed).toEqual(full('A'));
  });

  it('counts the strings that are taken up or left; on another neck that is all of them', () => {
    const upper = hold(
      3,
      [],
      [
        [3, 71],
        [4, 67],
        [5, 62],
      ],
    );
    expect(told(moveBetween(E9, g, upper).terms)).toEqual([
      '2 strings taken up or left: 0.400',
      // B to D, D to G, G to B
      '12 semitones: 1.200',
    ]);
    expect(moveBetween(E9, g, upper).held).toEqual([4, 5]);
    const two = hold(
      3,
      [],
      [
        [4, 67],
        [5, 62],
      ],
    );
    // B and D both go to D
    expect(told(moveBetween(E9, g, two).terms)).toEqual([
      'one string changes: 0.200',
      '3 semitones: 0.300',
    ]);
    const other = moveBetween(DOUBLE, g, { ...g, neck: 2 });
    expect(told(other.terms)).toEqual([
      'to the other neck: 2.000',
      '6 strings taken up or left: 1.200',
    ]);
    expect(other.held).toEqual([]);
  });

  it('is the sum of its parts', () => {
    const to = hold(6, full('C'), [
      [3, 74],
      [4, 70],
      [5, 65],
    ]);
    // 610 · (2^(−3/12) − 2^(−6/12)) = 81.612 mm; strings 6 and 3; A, C and two pedals between them; 6 + 6 + 7 semitones
    expect(moveBetween(E9, bent, to)).toMatchObject({
      ...{ bar: 1.408, picking: 0.4, feet: 1.1, voices: 1.9, total: 4.808 },
    });
  });

  it('leads the voices by their pitch, not by their strings', () => {
    // E9 at the nut: F♯ G♯ on strings 1 and 3, G♯ E on strings 3 and 4: F♯ goes to E
    const low = hold(
      0,
      [],
      [
        [1, 66],
        [3, 68],
      ],
    );
    expect(
      moveBetween(
        E9,
        low,
        hold(
          0,
          [],
          [
            [3, 68],
            [4, 64],
          ],
        ),
      ).semitones,
    ).toBe(2);
  });

  it('of one semitone is told so', () => {
    const sharp = hold(3, full('A'), [
      [4, 67],
      [5, 63],
      [6, 59],
    ]);
    expect(told(moveBetween(E9, g, sharp).terms)).toContain('one semitone: 0.100');
  });

  it('is weighed part by part', () => {
    const balance = { ...EVEN_WAY, feet: 2, voices: 0 };
    expect(moveBetween(E9, g, bent, balance)).toMatchObject({ total: 0.5, feet: 0.5, voices: 0 });
  });

  it('from where the bar lies before the first chord is a way of the bar alone', () => {
    const move = moveFromHome(E9, 0, bent);
    expect(told(move.terms)).toEqual(['the bar moves: 1.000', '97 mm: 0.485']);
    expect(move).toMatchObject({ semitones: 0, held: [], feet: 0, picking: 0, voices: 0 });
    expect(move.changes).toEqual({ pressed: [], letGo: [], shifted: [] });
    expect(moveFromHome(E9, 3, bent).total).toBe(0);
  });
});
