/**
 * Model, section 1: `half` has the same sign as `semitones` and is smaller. Half-stops are whole
 * semitones, so that a pull of one semitone has none.
 */
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { halfStopsOf, mayHalt } from '$lib/setup/halfStops';

it.each([
  // counted on the fingers: the whole semitones between the open string and the full stop
  [1, []],
  [-1, []],
  [2, [1]],
  [-2, [-1]],
  [3, [1, 2]],
  [-3, [-1, -2]],
  [7, [1, 2, 3, 4, 5, 6]],
  [-7, [-1, -2, -3, -4, -5, -6]],
  [0, []],
])('a pull of %i semitones halts at %j and nowhere else', (semitones, stops) => {
  const all = Array.from({ length: 21 }, (_, step) => step - 10);
  expect(all.filter((half) => mayHalt(semitones, half)).sort((a, b) => a - b)).toEqual(
    [...stops].sort((a, b) => a - b),
  );
  expect(halfStopsOf(semitones)).toEqual(stops.length === 0 ? undefined : [stops[0], stops.at(-1)]);
});

it('never halts between two semitones, nor at what is no number', () => {
  for (const half of [0.5, 1.5, NaN, Infinity]) expect(mayHalt(3, half)).toBe(false);
});

it('says the same as walking the string semitone by semitone', () => {
  const whole = fc.integer({ min: -40, max: 40 });
  fc.assert(
    fc.property(whole, whole, (semitones, half) => {
      const passed: number[] = [];
      const step = semitones > 0 ? 1 : -1;
      for (let at = 0; at !== semitones; at += step) if (at !== 0) passed.push(at);
      expect(mayHalt(semitones, half)).toBe(passed.includes(half));
    }),
  );
});
