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
import { battery } from '../../battery';
import { LONG } from '../../seed';
import { dbOf, rmsOf, truePeakOf } from '../../listening/ear';

const RATE = 48_000;

interface Played {
  readonly sound: Float32Array;
  /** Seconds at which chords begin. */
  readonly starts: readonly number[];
}

function played(
  id: BuiltInId,
  text: string,
  asked: Record<string, string> = {},
  how: { readonly countIn?: boolean; readonly speed?: number } = {},
): Played {
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
    ...how,
  });
  const { left } = renderNotes(notes, { referenceHz: 440, sampleRate: RATE });
  return { sound: left, starts: due.map(({ at }) => at) };
}

/** In decibels, by chord. */
const levelsOf = ({ sound, starts }: Played): number[] =>
  starts.map((at) => dbOf(rmsOf(sound, RATE, at + 0.15, at + 0.55)));

const spreadOf = (levels: readonly number[]): number => Math.max(...levels) - Math.min(...levels);

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

/** What has no stroke of its own for longest. */
const HARDEST = ['the first piece', 'pulls alone'];

describe('from the loudest chord to the softest', () => {
  it.each(PIECES)('%s', (name, id, text, asked) => {
    const piece = played(id, text, asked);
    const levels = levelsOf(piece);
    // at half speed too, of which `npm test` hears those that die away most
    if (LONG || HARDEST.includes(name))
      expect(spreadOf(levelsOf(played(id, text, asked, { speed: 0.5 })))).toBeLessThan(12);
    const all = levels.map((db) => db.toFixed(1)).join(' ');
    console.log(`${name}: ${spreadOf(levels).toFixed(1)} dB (${all})`);
    expect(spreadOf(levels)).toBeLessThan(12);
    expect(dbOf(truePeakOf(piece.sound))).toBeLessThan(-1);
  });
});

battery('random pieces, at any tempo, on any setup', { slice: 3, whole: 120 }, (cases) => {
  const pick = <T>(list: readonly T[]): T => list[Math.floor(cases.random() * list.length)] as T;
  const roots = ['C', 'D', 'Eb', 'E', 'F', 'G', 'A', 'Bb'];
  let widest = 0;
  for (let piece = 0; piece < cases.count; piece++) {
    const chord = (): string => pick(roots) + pick(['', '', 'm', '7', 'm7', 'maj7', '6']);
    const bar = (): string => (cases.random() < 0.3 ? `${chord()} ${chord()}` : chord());
    const tempo = 50 + Math.floor(cases.random() * 150);
    const text = `tempo: ${tempo}\n${Array.from({ length: 6 }, bar).join(' | ')}`;
    const id = pick(['e9', 'c6', 'universal12'] as const);
    const spread = spreadOf(levelsOf(played(id, text, { match: 'lean' })));
    widest = Math.max(widest, spread);
    expect(spread, `${id}, ${text}`).toBeLessThan(12);
  }
  console.log(`${cases.count} random pieces: at most ${widest.toFixed(1)} dB`);
});

it('the count before it is softer than the music by 15 dB or more', () => {
  const { sound, starts } = played('e9', 'C | Am7 | Dm7 G7 | C', {}, { countIn: true });
  const [first = 0] = starts;
  const music = Math.min(...levelsOf({ sound, starts }));
  // the loudest twentieth of a second before the first chord
  const clicks = Array.from({ length: Math.floor((first - 0.05) / 0.01) }, (_, step) =>
    dbOf(rmsOf(sound, RATE, step * 0.01, step * 0.01 + 0.05) + 1e-9),
  );
  const loudest = Math.max(...clicks);
  console.log(`the count is softer by ${(music - loudest).toFixed(1)} dB`);
  expect(music - loudest).toBeGreaterThan(15);
  expect(loudest).toBeGreaterThan(-50);
});
