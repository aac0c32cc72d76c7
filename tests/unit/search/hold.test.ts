/** What becomes of a hold when the player or the setup changes it (model, sections 2, 3 and 8). */
import { describe, expect, it } from 'vitest';
import { builtIn } from '$lib/setup/builtIns';
import type { Engaged } from '$lib/setup/setup';
import {
  carried,
  fits,
  fretsAheadOf,
  picked,
  pitchesOf,
  pressed,
  straightened,
  within,
  type Hold,
} from '$lib/search/hold';

const E9 = builtIn('e9');
const LAP = builtIn('lap6-c6');
const full = (...ids: string[]): Engaged[] => ids.map((id) => ({ id, state: 'full' }));
const hold = (fret: number, strings: number[], besides: Partial<Hold> = {}): Hold => ({
  neck: 1,
  fret,
  slant: 0,
  engaged: [],
  strings,
  ...besides,
});

describe('a hold sounds', () => {
  it('its open strings, what its controls pull, and the fret', () => {
    // E9: E4 B3 G♯3 on strings 4, 5 and 6; pedal A raises the fifth by 2
    expect(pitchesOf(E9, hold(3, [4, 5, 6]))).toEqual([67, 62, 59]);
    expect(pitchesOf(E9, hold(3, [4, 5, 6], { engaged: full('A') }))).toEqual([67, 64, 59]);
  });

  it('under a slanted bar each string where the bar crosses it', () => {
    // string i stands at f + d · (b − i) / (b − a), far strings ahead
    const ahead = (strings: number[], slant: number) => fretsAheadOf(hold(5, strings, { slant }));
    expect(ahead([1, 3], 1)).toEqual([1, 0]);
    expect(ahead([1, 2, 3], 2)).toEqual([2, 1, 0]);
    expect(ahead([1, 3], -1)).toEqual([-1, 0]);
    expect(ahead([1, 2, 3], 1)).toBeUndefined();
    expect(ahead([1, 3], 0)).toBeUndefined();
    const straight = pitchesOf(LAP, hold(5, [1, 3]));
    expect(pitchesOf(LAP, hold(5, [1, 3], { slant: 1 }))).toEqual([
      (straight[0] ?? 0) + 1,
      straight[1],
    ]);
  });
});

describe('a hold fits', () => {
  it('from the nut to the last fret where the bar is straight', () => {
    for (const fret of [0, E9.frets]) expect(fits(E9, hold(fret, [4]))).toBe(true);
    for (const fret of [-1, E9.frets + 1]) expect(fits(E9, hold(fret, [4]))).toBe(false);
  });

  it('from the first fret to the last with both ends of a slanted bar', () => {
    const slanted = (fret: number, slant: number): boolean =>
      fits(LAP, hold(fret, [1, 3], { slant }));
    expect([0, 1, LAP.frets - 1, LAP.frets].map((fret) => slanted(fret, 1))).toEqual([
      false,
      true,
      true,
      false,
    ]);
    expect([1, 2, LAP.frets].map((fret) => slanted(fret, -1))).toEqual([false, true, true]);
    // the string between the two lies between frets
    expect(fits(LAP, hold(5, [1, 2, 3], { slant: 1 }))).toBe(false);
  });

  it('or its bar is straightened', () => {
    const slanted = hold(5, [1, 3], { slant: 1 });
    expect(straightened(LAP, slanted)).toBe(slanted);
    expect(straightened(LAP, { ...slanted, fret: LAP.frets })).toEqual(hold(LAP.frets, [1, 3]));
  });
});

describe('on another setup a hold', () => {
  it('keeps the neck, frets and strings that are there', () => {
    const far = hold(99, [1, 6, 7, 12], { neck: 2 });
    expect(within(LAP, far)).toEqual(hold(LAP.frets, [1, 6]));
    expect(within(LAP, hold(-1, [2], { neck: 0 }))).toEqual(hold(0, [2]));
    expect(within(builtIn('double'), hold(3, [4], { neck: 2 }))).toEqual(hold(3, [4], { neck: 2 }));
  });

  it('keeps its controls where all are there and can be held together', () => {
    const both = hold(3, [4, 5], { engaged: full('A', 'B') });
    expect(carried(E9, both)).toEqual(both);
    const without = { ...E9, controls: E9.controls.filter(({ id }) => id !== 'B') };
    expect(carried(without, both)).toEqual(hold(3, [4, 5]));
    const one = { ...E9, reach: { ...E9.reach, pedalsAtOnce: 1 } };
    expect(carried(one, both)).toEqual(hold(3, [4, 5]));
  });
});

describe('a string', () => {
  it('is picked in its place, and left out when it is picked already', () => {
    expect(picked(E9, hold(3, [4, 10]), 5).strings).toEqual([4, 5, 10]);
    expect(picked(E9, hold(3, [4, 5, 10]), 5).strings).toEqual([4, 10]);
  });

  it('that a slanted bar cannot stop straightens it', () => {
    expect(picked(LAP, hold(5, [1, 3], { slant: 1 }), 2)).toEqual(hold(5, [1, 2, 3]));
    expect(picked(LAP, hold(5, [1, 3], { slant: 2 }), 2)).toEqual(hold(5, [1, 2, 3], { slant: 2 }));
  });
});

describe('a control', () => {
  it('goes down and up again, by way of its half-stop where it has one', () => {
    const presses = (id: string, times: number): readonly Engaged[] => {
      let now = hold(3, [4]);
      for (let time = 0; time < times; time++) now = pressed(E9, now, id).hold;
      return now.engaged;
    };
    expect([1, 2].map((times) => presses('A', times))).toEqual([full('A'), []]);
    expect([1, 2, 3].map((times) => presses('RKR', times))).toEqual([
      full('RKR'),
      [{ id: 'RKR', state: 'half' }],
      [],
    ]);
    const unknown = hold(3, [4]);
    expect(pressed(E9, unknown, 'X')).toEqual({ hold: unknown, letGo: '' });
  });

  it('takes the place of what cannot be held with it, and says why', () => {
    const { hold: after, letGo } = pressed(E9, hold(3, [4], { engaged: full('A', 'LKL') }), 'C');
    expect(after.engaged).toEqual(expect.arrayContaining(full('C', 'LKL')));
    expect(after.engaged).toHaveLength(2);
    expect(letGo).toMatch(/^A let go: [^.]+\.$/);
    expect(pressed(E9, hold(3, [4], { engaged: full('A') }), 'B').letGo).toBe('');
  });

  it('takes the place of several, each with its reason', () => {
    const one = { ...E9, reach: { ...E9.reach, pedalsAtOnce: 1 } };
    const { hold: after, letGo } = pressed(one, hold(3, [4], { engaged: full('A', 'B') }), 'C');
    expect(after.engaged).toEqual(full('C'));
    expect(letGo).toMatch(/^A let go: [^.]+\. B let go: [^.]+\.$/);
  });

  it('let go leaves all others that can be held, in whatever order they were pressed', () => {
    const three = { ...E9, reach: { ...E9.reach, pedalsAtOnce: 3 } };
    const held = hold(3, [4], { engaged: full('A', 'C', 'B', 'LKL') });
    expect(pressed(three, held, 'LKL').hold.engaged).toEqual(full('A', 'C', 'B'));
  });

  it('let go between two pedals leaves the first of them, for the foot cannot hold both', () => {
    const three = { ...E9, reach: { ...E9.reach, pedalsAtOnce: 3 } };
    const { hold: after, letGo } = pressed(
      three,
      hold(3, [4], { engaged: full('A', 'B', 'C') }),
      'B',
    );
    expect(after.engaged).toEqual(full('A'));
    expect(letGo).toBe('');
  });
});
