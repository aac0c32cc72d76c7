/** What is said of measures and of notes in them goes along when measures come before them, or go. */
import { describe, expect, it } from 'vitest';
import { movedPlaces } from '$lib/answers/movedPlaces';
import { measuresAfter } from '$lib/arrange/measuresAfter';
import type { Piece } from '$lib/arrange/piece';
import { tuneOf } from './ownTunes';

const ABOUT = { key: 'C', metre: [4, 4], tempo: 100 } as const;
const LINES: readonly (readonly [string, string])[] = [
  ['C', 'G4:4'],
  ['F', 'A4:4'],
  ['G', 'B4:4'],
  ['C', 'C5:4'],
];
const of = (lines: readonly (readonly [string, string])[]): Piece => tuneOf(ABOUT, lines);
const WISHES = {
  notes: '2:1=tune:4;2=fret:3;4:1=no-string:3',
  measures: '2-3=sixths;4=line',
  strike: 'rolled;2-4=chop;Chorus=pad',
};
const after = (lines: readonly (readonly [string, string])[]) =>
  movedPlaces(WISHES, measuresAfter(of(LINES), of(lines)));

describe('wishes of measures', () => {
  it('move on by as many measures as are put before them', () => {
    expect(after([['Am', 'E4:4'], ['Dm', 'D4:4'], ...LINES])).toEqual({
      notes: '4:1=tune:4;4=fret:3;6:1=no-string:3',
      measures: '4-5=sixths;6=line',
      strike: 'rolled;4-6=chop;Chorus=pad',
    });
  });

  it('spread over a measure that comes into the midst of theirs', () => {
    const [first = ['', ''], second = ['', ''], ...rest] = LINES;
    expect(after([first, second, ['Am', 'E4:4'], ...rest])).toMatchObject({
      notes: '2:1=tune:4;2=fret:3;5:1=no-string:3',
      measures: '2-4=sixths;5=line',
      strike: 'rolled;2-5=chop;Chorus=pad',
    });
  });

  it('go with a measure that goes, and stay where one is changed in its place', () => {
    const [first = ['', ''], , ...rest] = LINES;
    expect(after([first, ...rest])).toMatchObject({
      notes: '3:1=no-string:3',
      measures: '2=sixths;3=line',
    });
    expect(after([first, ['F', 'C5:4'], ...rest])).toEqual(WISHES);
  });
});

it('measures are told apart by their chords and by their notes, and one of several alike that goes is the last', () => {
  const places = (
    before: readonly (readonly [string, string])[],
    now: readonly (readonly [string, string])[],
  ): (number | undefined)[] => before.map((_, at) => measuresAfter(of(before), of(now))(at + 1));
  const [g, a, f] = [
    ['C', 'G4:4'],
    ['C', 'A4:4'],
    ['F', 'G4:4'],
  ] as const;
  expect(places([g, a], [a])).toEqual([undefined, 1]);
  expect(places([g, f], [f])).toEqual([undefined, 1]);
  expect(places([g, g, g], [g, g])).toEqual([1, 2, undefined]);
  expect(places([g, g], [g, g, g])).toEqual([1, 2]);
});
