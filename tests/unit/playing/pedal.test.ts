/**
 * The foot on the volume pedal: at rest (−20 dB) where strings are struck, it opens by what they have fallen,
 * and no further than it goes. A string that falls by 60 dB in 12 s has fallen, a share s = t/12 later, by
 * 60 s + 9 (1 − e^(−s/0.31)) dB: 3 s after its stroke by 15 + 4.98, and 1 s by 5 + 2.12.
 */
import { describe, expect, it } from 'vitest';
import { PEDAL_RANGE_DB, PEDAL_RESTS, pedalFollowing } from '$lib/playing/pedal';
import type { ScheduledNote } from '$lib/playing/schedule';

const note = (more: Partial<ScheduledNote> = {}): ScheduledNote => ({
  string: 4,
  midi: 64,
  at: 0,
  duration: 8,
  falls: 12,
  ...more,
});

/** Decibels above rest at a time. */
function openedAt(notes: readonly ScheduledNote[], time: number): number {
  let opened = 0;
  for (const { at, over, to } of pedalFollowing(notes)) {
    if (at >= time) break;
    const goal = 20 * Math.log10(to / PEDAL_RESTS);
    opened += (goal - opened) * Math.min(1, (time - at) / over);
  }
  return opened;
}

describe('the pedal', () => {
  it('opens as a string fades, until it is all the way down', () => {
    expect(20 * Math.log10(PEDAL_RESTS)).toBeCloseTo(-PEDAL_RANGE_DB, 9);
    expect(openedAt([note()], 1)).toBeCloseTo(7.12, 1);
    expect(openedAt([note()], 3)).toBeCloseTo(19.98, 1);
    expect(openedAt([note()], 6)).toBeCloseTo(PEDAL_RANGE_DB, 9);
    for (const { to } of pedalFollowing([note()])) expect(to).toBeLessThanOrEqual(1);
  });

  it('follows the fade alone: what is struck softly stays soft', () => {
    expect(openedAt([note({ level: 0.3 })], 2)).toBeCloseTo(openedAt([note()], 2), 9);
  });

  it('is back at rest when everything is struck anew, and not before the foot has to be', () => {
    const twice = [note({ duration: 2.97 }), note({ at: 3, duration: 3 })];
    expect(openedAt(twice, 2.9)).toBeGreaterThan(18);
    expect(openedAt(twice, 3)).toBeCloseTo(0, 6);
    expect(openedAt(twice, 4)).toBeCloseTo(7.12, 1);
  });

  it('comes back as far as a new string beside a faded one asks', () => {
    // powers 10^−1.998 and 1, of 2: 10 · log10(2 / 1.01) dB
    const both = [note(), note({ string: 5, at: 3 })];
    expect(openedAt(both, 3)).toBeCloseTo(2.97, 1);
  });

  it('counts the time under a higher pitch as longer', () => {
    const bent = note({ glides: [{ at: 0.5, over: 0, to: 69 }] });
    expect(openedAt([bent], 1.5)).toBeGreaterThan(openedAt([note()], 1.5) + 0.5);
  });

  it('stays where it is when nothing rings any more', () => {
    const moves = pedalFollowing([note({ duration: 2 })]);
    const last = moves.at(-1);
    expect((last?.at ?? 0) + (last?.over ?? 0)).toBeCloseTo(2, 6);
    expect(pedalFollowing([])).toEqual([]);
  });
});
