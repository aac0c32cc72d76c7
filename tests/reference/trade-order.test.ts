/**
 * The order of rows that a teacher would keep: common practice of the trade and of harmony, from
 * memory. Each rule is held against every built-in setup for everyday chords.
 */
import { describe, expect, it } from 'vitest';
import { answer } from '$lib/answers/answer';
import { octavesFolded } from '$lib/answers/positions';
import { readQuestion } from '$lib/answers/question';
import { BUILT_IN_IDS, builtIn, type BuiltInId } from '$lib/setup/builtIns';
import type { RankedVoicing } from '$lib/engine/rankedVoicings';
import { wayText } from '../unit/search/asking';

const CHORDS =
  'C Am G7 Am7 Dm7 Cmaj7 C6 Am6 Csus4 D7sus4 C9 Am9 Cmaj9 Cadd9 G13 G7b9 E7#9 Bdim Bm7b5 Cdim7 Caug Cm(maj7) Cmaj7#11 E5 C6/9'.split(
    ' ',
  );

function rowsOf(id: BuiltInId, chord: string, most: number): RankedVoicing[] {
  const setup = builtIn(id);
  const read = readQuestion(setup, { chord });
  if (!read.ok) throw new Error(chord);
  const found = answer(setup, read.value);
  return octavesFolded(found, most).map(({ index }) => found.at(index));
}

const steps = ({ voicing }: RankedVoicing): number[] => {
  const ascending = [...voicing.pitches].sort((a, b) => a - b);
  return ascending.slice(1).map((pitch, below) => pitch - (ascending[below] ?? 0));
};
const isRub = (row: RankedVoicing): boolean => steps(row).includes(1);
const isUnison = (row: RankedVoicing): boolean => steps(row).includes(0);
const positionOf = ({ voicing: { neck, fret, slant, ways } }: RankedVoicing): string =>
  `${neck}|${fret % 12}|${slant}|${wayText(ways[0] ?? [])}`;
const told = ({ voicing }: RankedVoicing): string =>
  `${voicing.fret} ${wayText(voicing.ways[0] ?? [])} ${voicing.strings.join('-')}`;

describe.each(BUILT_IN_IDS)('the first rows on %s', (id) => {
  it('are at most twice of five without root and fifth, where there are others', () => {
    for (const chord of CHORDS) {
      const floats = ({ voicing: { missing } }: RankedVoicing): boolean =>
        missing.includes('1') && missing.includes('5');
      const all = rowsOf(id, chord, 200);
      const others = all.filter((row) => !floats(row)).length;
      const allowed = Math.max(2, 5 - others);
      expect(all.slice(0, 5).filter(floats).length, chord).toBeLessThanOrEqual(allowed);
    }
  });

  it('have the whole chord before a part of it, where it is about as easy', () => {
    // about: within half a pedal of work
    const work = ({ effort }: RankedVoicing): number => effort.total - effort.clarity;
    for (const chord of CHORDS) {
      const [first, ...more] = rowsOf(id, chord, 30);
      if (first === undefined || first.voicing.missing.length === 0) continue;
      const near = more.filter(
        (row) =>
          row.voicing.missing.length === 0 &&
          work(row) <= work(first) + 0.5 &&
          !isRub(row) &&
          !isUnison(row),
      );
      expect(near.map(told), `${chord}, where ${told(first)} is first`).toEqual([]);
    }
  });

  /** Rows that stand before a better one of their position which lacks no more of the chord. */
  function worseFirst(
    most: number,
    isWorse: (row: RankedVoicing) => boolean,
    isBetter: (row: RankedVoicing) => boolean,
  ): string[] {
    return CHORDS.flatMap((chord) => {
      const rows = rowsOf(id, chord, most);
      return rows.flatMap((row, at) =>
        isWorse(row)
          ? rows
              .slice(at + 1)
              .filter(
                (later) =>
                  positionOf(later) === positionOf(row) &&
                  isBetter(later) &&
                  later.voicing.missing.length <= row.voicing.missing.length,
              )
              .map((later) => `${chord}: ${told(row)} before ${told(later)}`)
          : [],
      );
    });
  }

  it('have no semitone between neighbours before the chord spread in the same position', () => {
    expect(worseFirst(20, isRub, (row) => !isRub(row) && !isUnison(row))).toEqual([]);
  });

  it('have a unison only after everything without one in the same position', () => {
    expect(worseFirst(60, isUnison, (row) => !isUnison(row))).toEqual([]);
  });

  it('keep unisons out of the first rows, where there are others', () => {
    for (const chord of CHORDS) {
      const rows = rowsOf(id, chord, 60);
      const others = rows.filter((row) => !isUnison(row)).length;
      expect(rows.slice(0, Math.min(10, others)).filter(isUnison).map(told), chord).toEqual([]);
    }
  });
});
