/**
 * An arrangement stays as loud as a player would keep it: from its loudest chord to its softest are at
 * most 12 dB, by the root of the mean square from 0.15 to 0.55 s after each chord begins. The pieces are
 * invented; grips and positions are common practice.
 */
import { describe, expect, it } from 'vitest';
import { arrange } from '$lib/arrange/arrange';
import { readProgression } from '$lib/arrange/readText';
import { readWishes } from '$lib/answers/readWishes';
import { builtIn, type BuiltInId } from '$lib/setup/builtIns';
import { performanceOf } from '$lib/playing/performance';
import { renderNotes } from '$lib/rendering/renderSound';
import { heardPitches } from '$lib/tuning/heard';
import { dbOf, rmsOf } from '../../listening/ear';

const RATE = 48_000;

/** In decibels, by chord. */
function levelsOf(id: BuiltInId, text: string, asked: Record<string, string> = {}): number[] {
  const setup = builtIn(id);
  const { progression, faults } = readProgression(text);
  const wishes = readWishes(setup, asked);
  if (faults.length > 0 || !wishes.ok) throw new Error('the piece cannot be read');
  const { ways, unplayable } = arrange(setup, progression, wishes.value, 1);
  const [way] = ways;
  if (way === undefined || unplayable.length > 0) throw new Error('the piece cannot be played');
  const { notes, due } = performanceOf({
    setup,
    progression,
    steps: way.steps,
    pitchesOf: ({ hold }) => heardPitches(setup, hold),
  });
  const { left } = renderNotes(notes, { referenceHz: 440, sampleRate: RATE });
  return due.map(({ at }) => dbOf(rmsOf(left, RATE, at + 0.15, at + 0.55)));
}

const locks = (...holds: string[]) => ({
  locks: holds.map((hold, at) => `${at + 1}=hold:${hold}`).join(';'),
  sizes: '2-6',
  match: 'lean',
});

const PIECES: readonly (readonly [string, BuiltInId, string, Record<string, string>])[] = [
  ['the first piece', 'e9', 'C | Am7 | Dm7 G7 | C', {}],
  [
    'pulls alone',
    'e9',
    'tempo: 100\nG | C | G | C | Em | G | C | G',
    locks(
      '3//3-4-5',
      '3/A,B/3-4-5',
      '3//3-4-5',
      '3/A,B/3-4-5',
      '3/A/3-4-5',
      '3//3-4-5',
      '3/A,B/3-4-5',
      '3//3-4-5',
    ),
  ],
  [
    'pulls alone, slow and high',
    'e9',
    'tempo: 60\nD | G | D | G',
    locks('10//3-4-5', '10/A,B/3-4-5', '10//3-4-5', '10/A,B/3-4-5'),
  ],
  [
    'pulls alone, quick',
    'e9',
    'tempo: 180\nG | C | G | C | G | C | G | C',
    locks(
      '3//3-4-5',
      '3/A,B/3-4-5',
      '3//3-4-5',
      '3/A,B/3-4-5',
      '3//3-4-5',
      '3/A,B/3-4-5',
      '3//3-4-5',
      '3/A,B/3-4-5',
    ),
  ],
  [
    'two notes between full chords',
    'e9',
    'tempo: 100\nG | C | G | C',
    locks('3//3-4-5-6-8-10', '3/A,B/3-5', '3//3-4', '3/A,B/3-4-5-6-8-10'),
  ],
  ['a ballad', 'e9', 'tempo: 66\nF | Dm7 | Gm7 C7 | F | Bb | F | Gm7 C7 | F', {}],
  ['a waltz', 'universal12', 'tempo: 120\nmetre: 3/4\nG | Em | Am | D7 | G | Em | Am D7 | G', {}],
  ['swing', 'c6', 'tempo: 150\nC6 | A7 | Dm7 | G7 | C6 A7 | Dm7 G7 | C6 | C6', {}],
  ['slides without pedals', 'lap6-c6', 'tempo: 90\nF | Bb | F | C | F', {}],
];

describe('from the loudest chord to the softest', () => {
  it.each(PIECES)('%s', (name, id, text, asked) => {
    const levels = levelsOf(id, text, asked);
    const spread = Math.max(...levels) - Math.min(...levels);
    console.log(
      `${name}: ${spread.toFixed(1)} dB (${levels.map((db) => db.toFixed(1)).join(' ')})`,
    );
    expect(spread).toBeLessThan(12);
  });
});
