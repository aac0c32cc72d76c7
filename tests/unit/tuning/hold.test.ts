/** Stepping through strings and pulls without a hand. */
import { describe, expect, it } from 'vitest';
import { builtIn } from '$lib/setup/builtIns';
import { goTo, hear, startHold, type HoldState } from '$lib/tuning/hold';
import { nearestTarget, stepsOf } from '$lib/tuning/steps';
import { tune } from '$lib/tuning/tune';

const E9 = builtIn('e9');
const { targets } = tune(E9, 1, { method: 'equal' });

describe('the order', () => {
  const steps = stepsOf(E9, targets);
  const named = steps.map(({ string, control, state }) =>
    [control ?? '–', string, ...(state === 'half' ? ['half'] : [])].join(' '),
  );

  it('is every string, then pedals left to right, then knees', () => {
    expect(named.slice(0, 10)).toEqual([
      '– 1',
      '– 2',
      '– 3',
      '– 4',
      '– 5',
      '– 6',
      '– 7',
      '– 8',
      '– 9',
      '– 10',
    ]);
    expect(named.slice(10, 16)).toEqual(['A 5', 'A 10', 'B 3', 'B 6', 'C 4', 'C 5']);
    expect(new Set(steps).size).toBe(targets.length);
  });

  it('has the half-stop before the full stop', () => {
    expect(named.indexOf('RKR 2 half')).toBe(named.indexOf('RKR 2') - 1);
  });
});

describe('the nearest target', () => {
  it('is told with how far off it is', () => {
    // G♯4 is 415.305 Hz; 10 cents above is × 2^(10/1200)
    const found = nearestTarget(targets, 415.305 * 2 ** (10 / 1200));
    expect(found?.target).toMatchObject({ string: 3, control: null });
    expect(found?.cents).toBeCloseTo(10, 2);
  });

  it('takes an open string before a pull of the same note, and names the pull', () => {
    // D♯4 open on string 2 and of string 4 lowered by LKR
    const found = nearestTarget(targets, 311.127);
    expect(found?.target).toMatchObject({ string: 2, control: null });
    expect(found?.also).toMatchObject([{ string: 4, control: 'LKR' }]);
  });

  it('takes the wanted one first', () => {
    const wanted = targets.find(({ string, control }) => string === 4 && control === 'LKR');
    expect(nearestTarget(targets, 311.127, wanted)?.target).toBe(wanted);
    expect(nearestTarget([], 440)).toBeUndefined();
  });
});

describe('hands-free', () => {
  /** Plays readings 50 ms apart from a time on. */
  const play = (
    state: HoldState,
    fromMs: number,
    readings: readonly (number | undefined)[],
    level = 0.1,
  ): HoldState =>
    readings.reduce<HoldState>(
      (now, cents, i) => hear(now, { atMs: fromMs + 50 * i, cents, level }, 3),
      state,
    );
  const held = (cents: number, readings: number) => new Array<number>(readings).fill(cents);

  it('goes on when a string is held in tune for nine tenths of a second', () => {
    expect(play(startHold(), 0, held(1, 18)).step).toBe(0);
    expect(play(startHold(), 0, held(1, 18)).done).toBeCloseTo(17 / 18, 9);
    expect(play(startHold(), 0, held(1, 19)).step).toBe(1);
    expect(play(startHold(), 0, held(-1.9, 19)).step).toBe(1);
  });

  it('does not go on out of tune, and starts anew after a slip', () => {
    expect(play(startHold(), 0, held(2.5, 100)).step).toBe(0);
    const slipped = [...held(0, 15), ...held(5, 6), ...held(0, 15)];
    expect(play(startHold(), 0, slipped).step).toBe(0);
  });

  it('forgives a gap of a fifth of a second', () => {
    const gap = [...held(0, 9), undefined, undefined, undefined, ...held(0, 9)];
    expect(play(startHold(), 0, gap).step).toBe(1);
  });

  it('does not count one long note twice', () => {
    expect(play(startHold(), 0, held(0, 200)).step).toBe(1);
  });

  it('counts the same note again when it is struck anew, after silence, or after another', () => {
    const done = play(startHold(), 0, held(0, 19));
    const faded = play(done, 1000, held(0, 10), 0.02);
    expect(play(faded, 1500, held(0, 20), 0.1).step).toBe(2);
    expect(play(done, 1000, [undefined, ...held(0, 20)]).step).toBe(2);
    expect(play(done, 1000, [300, ...held(0, 20)]).step).toBe(2);
  });

  it('ends after the last step, and can be sent to any', () => {
    expect(play(goTo(3), 0, held(0, 100)).step).toBe(3);
    expect(play(goTo(2), 0, held(0, 19)).step).toBe(3);
  });
});
