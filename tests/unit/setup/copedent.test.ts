/** The copedent: what every chart of a setup draws from. */
import { describe, expect, it } from 'vitest';
import { pitchText } from '$lib/theory/pitch';
import { builtIn } from '$lib/setup/builtIns';
import { copedentOf, fittedStations, semitonesIn, stationsWithFree } from '$lib/setup/copedent';
import { setupOf } from '../../property/generators';

describe('the copedent of E9 (common practice of the trade)', () => {
  const e9 = builtIn('e9');
  const copedent = copedentOf(e9, 1);
  const cellsOf = (id: string): string[] => {
    const column = copedent.columns.findIndex(({ control }) => control?.id === id);
    return copedent.rows.flatMap(({ number, cells }) => {
      const cell = cells[column];
      if (cell === undefined) return [];
      const notes = cell.stops.map(({ pitch }) => pitchText(pitch)).join('/');
      return [`${number}: ${semitonesIn(cell)} ${notes}`];
    });
  };

  it.each([
    ['A', ['5: +2 C#4', '10: +2 C#3']],
    ['B', ['3: +1 A4', '6: +1 A3']],
    ['C', ['4: +2 F#4', '5: +2 C#4']],
    ['LKL', ['4: +1 F4', '8: +1 F3']],
    ['LKR', ['4: −1 D#4', '8: −1 D#3']],
    ['RKR', ['2: −1/−2 D4/C#4', '9: −1 C#3']],
  ])('%s moves the strings that it should, to the notes that it should', (id, wanted) => {
    expect(cellsOf(id)).toEqual(wanted);
  });

  it('has a row for every string, string 1 first', () => {
    expect(
      copedent.rows.map(({ number, string }) => `${number} ${pitchText(string.open)}`),
    ).toEqual([
      ...['1 F#4', '2 D#4', '3 G#4', '4 E4', '5 B3', '6 G#3', '7 F#3', '8 E3', '9 D3', '10 B2'],
    ]);
  });

  it('leaves free stations out, or keeps those between and beside controls, or takes what is asked', () => {
    expect(fittedStations(e9)).toEqual(['P1', 'P2', 'P3', 'LKL', 'LKV', 'LKR', 'RKL', 'RKR']);
    const withFree = copedentOf(e9, 1, stationsWithFree(e9));
    expect(
      withFree.columns.map(({ group, station, control }) => [group, station, control?.id]),
    ).toEqual([
      ['Pedals', 'P1', 'A'],
      ['Pedals', 'P2', 'B'],
      ['Pedals', 'P3', 'C'],
      ['Left knee', 'LKL', 'LKL'],
      ['Left knee', 'LKV', 'LKV'],
      ['Left knee', 'LKR', 'LKR'],
      ['Right knee', 'RKL', 'RKL'],
      ['Right knee', 'RKV', undefined],
      ['Right knee', 'RKR', 'RKR'],
    ]);
    const asked = copedentOf(e9, 1, ['P12', 'P1']);
    expect(asked.columns.map(({ control }) => control?.id)).toEqual([undefined, 'A']);
    expect(asked.rows[4]?.cells.map((cell) => semitonesIn(cell))).toEqual(['', '+2']);
  });

  it('refuses a neck that is not there', () => {
    expect(() => copedentOf(e9, 2)).toThrow('neck 2 of a setup with 1');
  });
});

it('controls stand left to right as the player sits, in whatever order the file has them', () => {
  const setup = setupOf({
    format: 1,
    name: 'x',
    necks: [
      { name: 'one', strings: [{ open: 'E3' }] },
      { name: 'two', strings: [{ open: 'C3' }, { open: 'A2' }] },
    ],
    controls: [
      { id: 'right', station: 'RKL', pulls: [{ neck: 2, string: 2, semitones: -2 }] },
      { id: 'five', station: 'P5', pulls: [{ neck: 1, string: 1, semitones: 1 }] },
      { id: 'two', station: 'P2', pulls: [] },
    ],
  });
  const second = copedentOf(setup, 2);
  expect(second.columns.map(({ control }) => control?.id)).toEqual(['two', 'five', 'right']);
  expect(second.rows.map(({ cells }) => cells.map((cell) => semitonesIn(cell)))).toEqual([
    ['', '', ''],
    ['', '', '−2'],
  ]);
  expect(stationsWithFree(setup)).toEqual(['P2', 'P3', 'P4', 'P5', 'RKL', 'RKV', 'RKR']);
});
