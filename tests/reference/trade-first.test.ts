/**
 * Where a teacher would send a pupil first: common practice of the trade, from memory, no published
 * source. Written down before the program was asked. Frets are told within an octave, since 0 and 12
 * are one position to a player.
 */
import { describe, expect, it } from 'vitest';
import { answer } from '$lib/answers/answer';
import { readQuestion } from '$lib/answers/question';
import { builtIn, type BuiltInId } from '$lib/setup/builtIns';
import type { RankedVoicing } from '$lib/engine/rankedVoicings';
import { wayText } from '../unit/search/asking';

/** The first rows of a chord as it is asked by default. */
function rowsOf(id: BuiltInId, chord: string, most: number): RankedVoicing[] {
  const setup = builtIn(id);
  const read = readQuestion(setup, { chord });
  if (!read.ok) throw new Error(chord);
  const found = answer(setup, read.value);
  return Array.from({ length: Math.min(most, found.count) }, (_, row) => found.at(row));
}

const placeOf = ({ voicing }: RankedVoicing): string =>
  `${voicing.fret % 12} ${wayText(voicing.ways[0] ?? [])}`.trim();

/** The different positions in their order, octaves folded. */
const positionsOf = (id: BuiltInId, chord: string): string[] => [
  ...new Set(rowsOf(id, chord, 400).map(placeOf)),
];

type Expectation = readonly [id: BuiltInId, chord: string, place: string, within: number];

const E9: readonly (readonly [string, string, number])[] = [
  // the open position is the first of every major chord, A+B the second, A+LKL the third
  ['C', '8', 1],
  ['C', '3 A+B', 2],
  ['C', '11 A+LKL', 3],
  ['F', '1', 1],
  ['G', '3', 1],
  ['D', '10', 1],
  ['A', '5', 1],
  ['Bb', '6', 1],
  ['E', '0', 1],
  ['G', '10 A+B', 2],
  // the pedal A minor, and the lowered E beside it; B+C after them
  ['Am', '8 A', 2],
  ['Am', '1 LKR', 2],
  ['Am', '3 B+C', 3],
  ['Dm', '1 A', 2],
  ['Em', '3 A', 2],
  ['F#m', '5 A', 2],
  ['Cm', '11 A', 2],
  ['Gm', '6 A', 2],
  // string 9 has the seventh of the open position
  ['G7', '3', 1],
  ['C7', '8', 1],
  ['D7', '10', 1],
  ['A7', '5', 1],
  ['E7', '0', 1],
  ['G7', '8 B+LKR', 5],
  // C raises string 5 alone of the two: a minor seventh on 5-6-8-10, or a sixth
  ['Am7', '8 C', 1],
  ['Dm7', '1 C', 1],
  ['Em7', '3 C', 1],
  ['C6', '8 C', 1],
  ['Csus4', '8 B', 1],
  ['G13', '3 A', 3],
  ['D9', '10', 3],
  // its root lies open there, and one lever gives the raised eleventh
  ['Cmaj7#11', '8 LKV', 3],
  // the minor of B and C has the seventh on string 9; a split on string 4 is no first choice
  ['Am9', '10 B+C', 1],
  ['Bdim', '6 LKL', 2],
  // strings 7 and 9 beside the open chord: the ninth and the seventh
  ['C9', '8', 1],
  ['F9', '1', 1],
  ['E13', '0 A', 1],
  ['Cdim', '7 LKL', 2],
  ['Cdim7', '1 LKL', 4],
  ['Caug', '8 A+LKV', 5],
  ['Gsus4', '3 B', 1],
  // the lever takes the third to the ninth
  ['Csus2', '8 RKL', 2],
  ['C7sus4', '8 B', 3],
  ['C/E', '8', 1],
  ['G/B', '3', 1],
  ['D/F#', '10', 1],
  ['Am/C', '8 A', 2],
  ['Cmaj7', '8', 3],
  ['Cadd9', '8', 2],
  ['C6/9', '8 C', 1],
  ['E5', '0', 1],
  ['B7', '0 B+LKR', 5],
  ['B7', '7', 1],
  // the lever that makes the chord diminished over the open strings has the flat ninth in it
  ['G7alt', '0 LKL', 8],
  ['G7b9', '0 LKL', 5],
];

const C6: readonly (readonly [string, string, number])[] = [
  ['C6', '0', 1],
  ['G6', '7', 1],
  ['F6', '5', 1],
  ['Am7', '0', 1],
  ['Dm7', '5', 1],
  ['C', '0', 1],
  ['Cmaj7', '0 P4', 1],
  ['Fmaj7', '5 P4', 1],
  ['G7', '10 P8', 3],
  ['C7', '3 P8', 3],
  // what each pedal is taught for
  ['D9', '0 P5', 3],
  ['F9', '0 P6', 3],
  ['C9', '10 P5', 3],
  ['Cmaj9', '0 P7', 2],
  ['A7', '0 P8', 3],
  ['Cdim7', '0 P5+P6', 3],
  ['D7b9', '0 P5+P6', 4],
  ['Em7', '7', 1],
  ['F#m7b5', '0 P5', 2],
  ['Am6', '0 P5', 3],
];

const WITHOUT_PEDALS: readonly Expectation[] = [
  ['lap6-c6', 'C', '0', 1],
  ['lap6-c6', 'F', '5', 1],
  ['lap6-c6', 'G', '7', 1],
  ['lap6-c6', 'Am', '0', 1],
  ['lap6-c6', 'Dm', '5', 1],
  ['lap6-c6', 'C6', '0', 1],
  ['lap6-c6', 'Em7', '7', 1],
  ['lap6-a6', 'A', '0', 1],
  ['lap6-a6', 'D', '5', 1],
  ['lap6-a6', 'F#m', '0', 1],
  ['lap8-c6', 'C6', '0', 1],
  ['lap8-c6', 'G', '7', 1],
  ['square6-g', 'G', '0', 1],
  ['square6-g', 'C', '5', 1],
  ['square6-g', 'D', '7', 1],
  ['universal12', 'E', '0', 1],
  ['universal12', 'C', '8', 1],
  ['universal12', 'Am', '8 P1', 3],
  ['lap6-c6', 'Am7', '0', 1],
  ['lap6-c6', 'Em', '7', 1],
  ['lap6-c6', 'C/E', '0', 1],
  ['lap6-a6', 'A6', '0', 1],
  ['lap6-a6', 'F#m7', '0', 1],
  ['lap6-a6', 'Bm', '5', 1],
  ['lap6-a6', 'E', '7', 1],
  ['square6-g', 'G5', '0', 1],
  ['square6-g', 'A', '2', 1],
  ['square6-g', 'Bb', '3', 1],
  ['lap8-c6', 'Am7', '0', 1],
  ['lap8-c6', 'Dm7', '5', 1],
  ['lap8-c6', 'F', '5', 1],
  // E9 with its pedals, and B6 under the lever that lowers both E strings
  ['universal12', 'A', '0 P1+P2', 3],
  ['universal12', 'C#m', '0 P1', 2],
  ['universal12', 'F#m', '0 P2+P3', 3],
  ['universal12', 'Esus4', '0 P2', 1],
  ['universal12', 'E6', '0 P1', 1],
  ['universal12', 'Emaj7', '0', 4],
  ['universal12', 'B6', '0 RKL', 6],
  ['universal12', 'Bmaj7', '0 P4+RKL', 3],
  ['universal12', 'C#9', '0 P5+RKL', 5],
  ['double', 'C6', '0', 2],
  ['double', 'C', '8', 2],
];

const EXPECTED: readonly Expectation[] = [
  ...E9.map(([chord, place, within]): Expectation => ['e9', chord, place, within]),
  ...C6.map(([chord, place, within]): Expectation => ['c6', chord, place, within]),
  ...WITHOUT_PEDALS,
];

describe('an altered dominant', () => {
  // any altered fifth and any altered ninth: a player wants to see both kinds before long
  it.each(['e9', 'c6', 'universal12', 'double'] as const)('on %s has both among its rows', (id) => {
    const degrees = new Set(
      rowsOf(id, 'G7alt', 60).flatMap(({ voicing }) =>
        voicing.pitches.map((midi) => (midi - 67 + 120) % 12),
      ),
    );
    for (const [fifthOrNinth, either] of [
      ['ninth', [1, 3]],
      ['fifth', [6, 8]],
    ] as const)
      expect(
        either.some((each) => degrees.has(each)),
        fifthOrNinth,
      ).toBe(true);
    expect(degrees.has(1), 'flat ninth').toBe(true);
  });
});

describe('the first positions of a chord', () => {
  it.each(EXPECTED)('on %s %s has “%s” among its first %d', (id, chord, place, within) => {
    expect(positionsOf(id, chord).slice(0, within)).toContain(place);
  });
});
