/**
 * Tuning targets of strings and pulls, in cents from equal temperament. Expected values by hand: a pull
 * stops at its target, and in a split squares of frequencies add up, f² = f²(raise) + f²(lower) − f²(open),
 * where the square of a note c cents above another is 2^(c/600) times that of the other.
 */
import { describe, expect, it } from 'vitest';
import { builtIn } from '$lib/setup/builtIns';
import { readSetup } from '$lib/setup/readSetup';
import { centsOf } from '$lib/setup/targets';
import type { Engaged } from '$lib/setup/setup';

const read = readSetup({
  format: 1,
  name: 'Targets',
  frets: 12,
  scaleLengthMm: 610,
  referenceHz: 440,
  reach: { pedalsAtOnce: 2, kneeUpWithSideways: false },
  necks: [
    {
      name: 'One',
      strings: [{ open: 'E4', cents: -4 }, { open: 'B3' }, { open: 'G#3', cents: -13 }],
    },
    { name: 'Two', strings: [{ open: 'G4', cents: 7 }] },
  ],
  controls: [
    {
      id: 'A',
      station: 'P1',
      pulls: [
        { string: 2, semitones: 2, cents: -9 },
        { string: 3, semitones: 1 },
        { neck: 2, string: 1, semitones: 1, cents: 3 },
      ],
    },
    { id: 'B', station: 'P2', pulls: [{ string: 2, semitones: 2, cents: 5 }] },
    {
      id: 'L',
      station: 'LKL',
      pulls: [
        { string: 1, semitones: -2, half: -1, cents: 8 },
        { string: 2, semitones: -1, cents: 6 },
      ],
    },
  ],
});
if (!read.ok) throw new Error('the setup is refused');
const setup = read.value;
const held = (...ids: string[]): Engaged[] =>
  ids.map((id) =>
    id.endsWith(':half') ? { id: id.slice(0, -5), state: 'half' } : { id, state: 'full' },
  );

describe('the strings stand', () => {
  it.each([
    ['open', [], [-4, 0, -13]],
    // string 3's pull has no target: it stops in equal temperament
    ['with A', ['A'], [-4, -9, 0]],
    // both raise string 2 by two semitones; the one that stops higher decides
    ['with A and B', ['A', 'B'], [-4, 5, 0]],
    ['with L', ['L'], [8, 6, -13]],
    // string 2: 600·log₂(2^(191/600) + 2^(−94/600) − 1) − 100; 1.246889 + 0.897095 − 1 = 1.143985
    ['with A and L, a split', ['A', 'L'], [8, 16.441, 0]],
    // a half-stop has no target; string 2 has none in L and rests
    ['with L half way', ['L:half'], [0, 0, -13]],
  ])('%s', (_what, ids, cents) => {
    const stand = centsOf(setup, 1, held(...ids));
    expect(stand).toHaveLength(3);
    stand.forEach((each, index) => {
      expect(each).toBeCloseTo(cents[index] ?? NaN, 3);
    });
  });

  it('on each neck by its own', () => {
    expect(centsOf(setup, 2, [])).toEqual([7]);
    expect(centsOf(setup, 2, held('A'))).toEqual([3]);
    expect(centsOf(setup, 3, [])).toEqual([]);
  });

  it('in equal temperament where no setup says otherwise', () => {
    const e9 = builtIn('e9');
    expect(centsOf(e9, 1, held('A', 'B', 'LKL'))).toEqual(new Array(10).fill(0));
  });
});
