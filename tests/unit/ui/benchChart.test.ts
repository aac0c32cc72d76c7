/** The ways between the chart's cells, the changer's travel, and what is told of edits. */
import { describe, expect, it } from 'vitest';
import { builtIn } from '$lib/setup/builtIns';
import { spotByKey, within, type Spot } from '$lib/ui/bench/chartKeys';
import { chartView } from '$lib/ui/bench/chartView';
import { readBenchAddress, benchAddressText } from '$lib/ui/bench/benchAddress';
import { pullAtX, pullByKey, shareOf } from '$lib/ui/bench/pullTravel';

const SIZE = { strings: 10, controls: 8 };
const at = (row: number, column: number): Spot => ({ row, column });

describe('a key leads', () => {
  it.each([
    ['ArrowRight', at(1, 3), at(1, 4)],
    ['ArrowUp', at(1, 3), at(0, 3)],
    ['ArrowUp', at(1, 1), undefined],
    ['ArrowLeft', at(0, 3), at(1, 2)],
    ['ArrowDown', at(10, 5), undefined],
    ['Home', at(4, 7), at(4, 0)],
    ['Home', at(0, 7), at(0, 3)],
    ['End', at(4, 0), at(4, 10)],
    ['PageUp', at(7, 4), at(0, 4)],
    ['PageDown', at(2, 4), at(10, 4)],
    ['Tab', at(2, 10), at(3, 0)],
    ['Tab', at(0, 10), at(1, 0)],
    ['Tab', at(10, 10), undefined],
    ['x', at(2, 2), undefined],
  ])('%s from %j to %j', (key, from, to) => {
    expect(spotByKey(key, from, SIZE)).toEqual(to);
  });

  it('through every cell with Tab, and back the same way with Shift', () => {
    const walked: Spot[] = [at(0, 3)];
    for (let next: Spot | undefined = at(0, 3); next !== undefined;) {
      next = spotByKey('Tab', next, SIZE);
      if (next !== undefined) walked.push(next);
    }
    // 8 names, and ten strings with number, open note, gauge and 8 pulls each
    expect(walked).toHaveLength(8 + 10 * 11);
    const back: Spot[] = [];
    for (let next = walked.at(-1); next !== undefined;) {
      back.push(next);
      next = spotByKey('Tab', next, SIZE, { shift: true });
    }
    expect(back.reverse()).toEqual(walked);
  });

  it('to no cell that a smaller chart has not', () => {
    expect(within(at(12, 14), SIZE)).toEqual(at(10, 10));
    expect(within(at(0, 1), SIZE)).toEqual(at(1, 1));
    expect(within(at(0, 3), { strings: 6, controls: 0 })).toEqual(at(1, 2));
  });
});

describe('a string’s end', () => {
  it('lies where its pull puts it, and the pull is read from where it lies', () => {
    for (let semitones = -7; semitones <= 7; semitones++)
      expect(pullAtX((shareOf(semitones) / 100) * 560, 560)).toBe(semitones);
    expect(shareOf(0)).toBe(50);
    expect(pullAtX(-50, 560)).toBe(-7);
    expect(pullAtX(900, 560)).toBe(7);
  });

  it('goes no further than seven semitones by keys', () => {
    expect(pullByKey('ArrowRight', 7)).toBe(7);
    expect(pullByKey('PageDown', -6)).toBe(-7);
    expect(pullByKey('0', 5)).toBe(0);
    expect(pullByKey('q', 5)).toBeUndefined();
  });
});

describe('the chart of E9 (common practice of the trade)', () => {
  const chart = chartView(builtIn('e9'), 1);
  it('names pulls by the neck’s own spelling, in signs and in words', () => {
    expect(chart.rows[4]?.cells[0]).toEqual({
      text: '+2',
      interval: '+2',
      note: 'C♯',
      spoken: 'raised 2 semitones to C sharp 4',
    });
    expect(chart.rows[1]?.cells[7]).toMatchObject({ text: '-1/-2', interval: '−1 · −2' });
  });

  it('sets a rule where the levers begin, and the other knee', () => {
    expect(chart.controls.filter(({ begins }) => begins).map(({ id }) => id)).toEqual([
      'LKL',
      'RKL',
    ]);
  });
});

it('an address holds setup and neck, and leaves out what is usual', () => {
  expect(benchAddressText({ setup: 'e9', neck: 1 })).toBe('');
  expect(benchAddressText({ setup: 'double', neck: 2 })).toBe('setup=double&neck=2');
  expect(readBenchAddress(new URLSearchParams('setup=double&neck=2'))).toEqual({
    setup: 'double',
    neck: 2,
  });
  expect(readBenchAddress(new URLSearchParams('neck=-1'))).toEqual({ setup: 'e9', neck: 1 });
});
