/**
 * Harmonised scales where players know them. Common practice of the trade, from memory; that each position sounds
 * what it should was worked out by hand from the tunings and pulls before the program was asked.
 */
import { describe, expect, it } from 'vitest';
import { readScale } from '$lib/theory/scales';
import { fretsAheadOf } from '$lib/search/hold';
import { builtIn, type BuiltInId } from '$lib/setup/builtIns';
import type { Setup } from '$lib/setup/setup';
import { engagedText } from '$lib/setup/engagedText';
import { ladder, type LadderInterval } from '$lib/scales/ladders';

/** By rung: the fret, or the fret of each string where the bar is slanted, and what is engaged. */
function positions(
  on: BuiltInId | Setup,
  named: string,
  interval: LadderInterval,
  strings: readonly number[],
  slants = false,
): string[] {
  const scale = readScale(named);
  if (!scale.ok) throw new Error(named);
  const question = { neck: 1, frets: [0, 12] as const, slants, way: 'up' } as const;
  const setup = typeof on === 'string' ? builtIn(on) : on;
  const found = ladder(setup, scale.value, { ...question, interval, strings });
  return (found?.rungs ?? []).map(({ step: { hold, way } }) => {
    const ahead = fretsAheadOf(hold);
    const frets = ahead === undefined ? [hold.fret] : ahead.map((more) => hold.fret + more);
    return `${frets.join('/')} ${engagedText(way) || '-'}`;
  });
}

describe('on an E9, E major', () => {
  it('in sixths on strings 3 and 5 goes by the open position and by A and B', () => {
    expect(positions('e9', 'E major', 'sixths', [3, 5]).slice(0, 8)).toEqual([
      ...['0 -', '0 A+B', '2 A+B', '5 -', '7 -', '7 A+B', '10 -', '12 -'],
    ]);
  });

  it('in thirds on strings 3 and 4 goes by the open position and by B and C', () => {
    expect(positions('e9', 'E major', 'thirds', [3, 4]).slice(0, 8)).toEqual([
      ...['0 -', '0 B+C', '2 B+C', '5 -', '7 -', '7 B+C', '9 B+C', '12 -'],
    ]);
  });
});

describe('on a C6, C major', () => {
  // strings 3 and 6, C4 over E3, are a minor sixth; the sixth pedal lowers the lower one and makes it major:
  // E-C, F-D, G-E, A-F, B-G, C-A, D-B, E-C are minor, major, major, minor, minor, major, major, minor
  // (the levers of the right knee move the third string: nobody goes from one to the other while it rings)
  it('in sixths on strings 3 and 6 goes by the open position and by the sixth pedal, with knee levers and without', () => {
    const c6 = builtIn('c6');
    const pedals = { ...c6, controls: c6.controls.filter(({ station }) => /^P/.test(station)) };
    for (const on of [c6, pedals])
      expect(positions(on, 'C major', 'sixths', [3, 6]).slice(0, 8)).toEqual([
        ...['0 -', '2 P6', '4 P6', '5 -', '7 -', '9 P6', '11 P6', '12 -'],
      ]);
  });

  // strings 2 and 3, E4 over C4, are a major third; the sixth pedal raises the upper one to F, the seventh the lower
  // one to D: a minor one. C-E, D-F, E-G, F-A, G-B, A-C, B-D, C-E
  it('in thirds on strings 2 and 3 goes by the open position and by the sixth pedal with the seventh', () => {
    expect(positions('c6', 'C major', 'thirds', [2, 3]).slice(0, 8)).toEqual([
      ...['0 -', '0 P6+P7', '2 P6+P7', '5 -', '7 -', '7 P6+P7', '9 P6+P7', '12 -'],
    ]);
  });

  // strings 4 and 7, A3 over C3, are a major sixth; the eighth pedal raises the lower one to C#: a minor one.
  // C-A, D-B, E-C, F-D, G-E, A-F, B-G, C-A
  it('in sixths on strings 4 and 7 goes by the open position and by the eighth pedal', () => {
    expect(positions('c6', 'C major', 'sixths', [4, 7]).slice(0, 8)).toEqual([
      ...['0 -', '2 -', '3 P8', '5 -', '7 -', '8 P8', '10 P8', '12 -'],
    ]);
  });

  // without pedals, strings 1 and 4, E4 over G3, are a major sixth; a minor one has its upper note a fret lower:
  // G-E, A-F, B-G, C-A, D-B, E-C, F-D, G-E
  it('in sixths on strings 1 and 4 of a lap steel goes straight for major ones, slanted for minor ones', () => {
    expect(positions('lap6-c6', 'C major', 'sixths', [1, 4], true).slice(0, 8)).toEqual([
      ...['0 -', '1/2 -', '3/4 -', '5 -', '7 -', '8/9 -', '10 -', '12 -'],
    ]);
  });

  // strings 1 and 2, E4 over C4, are a major third; a minor one has its upper note a fret lower:
  // C-E, D-F, E-G, F-A, G-B, A-C, B-D, C-E
  it('in thirds on strings 1 and 2 of a lap steel goes straight for major ones, slanted for minor ones', () => {
    expect(positions('lap6-c6', 'C major', 'thirds', [1, 2], true).slice(0, 8)).toEqual([
      ...['0 -', '1/2 -', '3/4 -', '5 -', '7 -', '8/9 -', '10/11 -', '12 -'],
    ]);
  });
});
