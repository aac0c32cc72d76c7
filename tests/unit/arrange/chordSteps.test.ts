/** Chords as they were solved, struck otherwise; places are worked out by hand from the text. */
import { describe, expect, it } from 'vitest';
import { arrange } from '$lib/arrange/arrange';
import { readProgression } from '$lib/arrange/readText';
import { pieceOf } from '$lib/arrange/pieceOf';
import { tuneMeasures } from '$lib/arrange/tuneMeasures';
import { noWishes } from '$lib/arrange/wishes';
import { staffSystems } from '$lib/formats/staffSystems';
import { struckChords } from '$lib/playing/struckChords';
import { builtIn } from '$lib/setup/builtIns';

const E9 = builtIn('e9');
const { progression, piece = pieceOf(progression) } = readProgression('A | D E7 | A');
const LOCKED = {
  ...noWishes(false),
  steps: new Map([[0, { fret: 5 }]]),
};
const [WAY] = arrange(E9, progression, LOCKED, 1).ways;
const steps = WAY?.steps ?? [];

describe('chords in measures of four', () => {
  it('stand where they are written, and are held as they were solved', () => {
    const { struck } = struckChords(E9, progression, steps, undefined, piece);
    expect(struck.map(({ onset }) => [onset.measure, onset.beat, onset.at, onset.lasts])).toEqual([
      [0, 1, 0, 4],
      [1, 1, 4, 2],
      [1, 3, 6, 2],
      [2, 1, 8, 4],
    ]);
    expect(struck.map(({ hold }) => hold)).toEqual(steps.map(({ hold }) => hold));
  });

  it('are struck on every beat by the same holds, a locked fret too', () => {
    const beats = { strike: 'beats', parts: [] } as const;
    const { struck } = struckChords(E9, progression, steps, beats, piece);
    expect(struck.map(({ onset }) => onset.at)).toEqual([0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11]);
    expect(struck.slice(0, 4).map(({ hold }) => hold.fret)).toEqual([5, 5, 5, 5]);
    for (const { of, hold } of struck) expect(hold).toEqual(steps[of]?.hold);
  });

  it('are written in staves, each under its symbol', () => {
    const { struck } = struckChords(E9, progression, steps, undefined, piece);
    const measures = tuneMeasures(piece, struck);
    const [system, ...others] = staffSystems({
      ...{ piece, measures, signs: 'letters', width: 2000 },
      widthOf: () => 20,
    });
    expect(others).toEqual([]);
    expect(system?.steps.map(({ index }) => index)).toEqual([0, 1, 2, 3]);
    for (const symbol of ['^A"', '^D"', '^E'])
      expect(system?.abc.indexOf(symbol)).toBeGreaterThan(0);
  });
});
