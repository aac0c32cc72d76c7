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
  ['Cmaj7#11', '8 LKV', 5],
  ['Bdim', '6 LKL', 2],
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
];

const EXPECTED: readonly Expectation[] = [
  ...E9.map(([chord, place, within]): Expectation => ['e9', chord, place, within]),
  ...C6.map(([chord, place, within]): Expectation => ['c6', chord, place, within]),
  ...WITHOUT_PEDALS,
];

describe('the first positions of a chord', () => {
  it.each(EXPECTED)('on %s %s has “%s” among its first %d', (id, chord, place, within) => {
    expect(positionsOf(id, chord).slice(0, within)).toContain(place);
  });
});
