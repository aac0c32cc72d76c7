/** Single notes of a tune kept, moved and turned down, and the rest solved around them. */
import { describe, expect, it } from 'vitest';
import { builtIn } from '$lib/setup/builtIns';
import type { NoteWishes } from '$lib/arrange/noteWishes';
import type { Textures } from '$lib/arrange/texture';
import { arrangeTune, type TuneWay } from '$lib/arrange/tune';
import { noWishes } from '$lib/arrange/wishes';
import { readWishes } from '$lib/answers/readWishes';
import { measuresText, notesText, strikesText, withMeasures } from '$lib/answers/tuneWishes';
import { OWN_TUNES, tuneOf } from './ownTunes';

const E9 = builtIn('e9');
const LINE: Textures = { texture: 'line', harmony: 'changes', measures: [] };
const PIECE = tuneOf({ key: 'G', metre: [4, 4], tempo: 100 }, [
  ['G', 'G4:1 B4:1 D5:2'],
  ['C', 'C5:1 E5:1 C5:2'],
]);

const solve = (notes: Readonly<Record<string, NoteWishes>>, most = 1, textures = LINE) =>
  arrangeTune(
    E9,
    PIECE,
    textures,
    { ...noWishes(false), notes: new Map(Object.entries(notes)) },
    most,
  );
const best = (notes: Readonly<Record<string, NoteWishes>>): TuneWay => {
  const [way] = solve(notes).ways;
  if (way === undefined) throw new Error('nothing found');
  return way;
};

describe('a note of a tune', () => {
  it('is moved to another string, and the best way around it is the best of all ways that have it there', () => {
    // all ways, least first: the first one that fits is what the wish has to find
    const all = solve({}, 400).ways;
    for (const string of [3, 4, 5]) {
      const fits = all.find(({ steps }) => steps[2]?.hold.strings[0] === string);
      const found = best({ '1:3': { tuneOn: string } });
      expect(found.steps[2]?.hold.strings).toEqual([string]);
      if (fits !== undefined) expect(found.total).toBe(fits.total);
      else expect(found.total).toBeGreaterThanOrEqual(all.at(-1)?.total ?? 0);
    }
  });

  it('is kept just as it is, at no cost where it is the best already', () => {
    const free = best({});
    const { hold, way } = free.steps[3] ?? { hold: undefined, way: [] };
    if (hold === undefined) throw new Error('no such note');
    const kept = best({ '2:1': { hold: { ...hold, engaged: way } } });
    expect(kept.total).toBe(free.total);
    expect(kept.steps[3]?.hold.fret).toBe(hold.fret);
  });

  it('does without strings, frets and ways that are turned down, all through its measure where asked', () => {
    const free = best({});
    const used = free.steps.slice(0, 3).flatMap(({ hold }) => hold.strings);
    const without = best({ '1': { noStrings: used } });
    for (const { hold } of without.steps.slice(0, 3))
      for (const string of hold.strings) expect(used).not.toContain(string);
    const { hold, way } = free.steps[0] ?? { hold: undefined, way: [] };
    if (hold === undefined) throw new Error('no such note');
    const down = best({ '1:1': { noHolds: [{ ...hold, engaged: way }] } });
    expect([down.steps[0]?.hold.fret, down.steps[0]?.hold.strings, down.steps[0]?.way]).not.toEqual(
      [hold.fret, hold.strings, way],
    );
    expect(down.total).toBeGreaterThanOrEqual(free.total);
    expect(best({ '1:1': { fret: 10 } }).steps[0]?.hold.fret).toBe(10);
  });

  it('of two keeps the string that is to be kept', () => {
    const sixths: Textures = { ...LINE, texture: 'sixths' };
    const [way] = solve({ '1:2': { strings: [6] } }, 1, sixths).ways;
    expect(way?.steps[1]?.hold.strings).toContain(6);
    expect(way?.steps[1]?.hold.strings).toHaveLength(2);
  });

  it('is played freely, and that is told, where what is asked cannot be had', () => {
    // D5 does not sound on string 10, whose highest fret is E♭5 a seventh below what pulls could reach at fret 0
    const { ways, lacks } = solve({ '1:1': { tuneOn: 10, fret: 0 } });
    expect(lacks.map(({ lacks: what, onset }) => [what, onset.measure, onset.beat])).toEqual([
      ['wish', 0, 1],
    ]);
    expect(ways[0]?.total).toBe(best({}).total);
  });

  it('has its place whatever the texture, and each time its measure is played', () => {
    const repeated = {
      ...PIECE,
      measures: PIECE.measures.map((each, at) =>
        at === 0 ? { ...each, repeats: true as const, times: 2 } : each,
      ),
    };
    const wishes = { ...noWishes(false), notes: new Map([['1:3', { tuneOn: 5 }]]) };
    const { ways } = arrangeTune(E9, repeated, LINE, wishes, 1);
    const there = ways[0]?.steps.filter(({ onset }) => onset.measure === 0 && onset.beat === 3);
    expect(there?.map(({ hold }) => hold.strings)).toEqual([[5], [5]]);
  });
});

describe('what is asked of a tune, as text', () => {
  it.each([
    ['notes', '1:1=tune:4;1:2.5=no-string:3,5;2:1=hold:8/A,B/3-4-5;3=fret:3;3:1=no-hold:8/-/4'],
    ['measures', '2-5=thirds;7=line'],
    ['strike', 'rolled;5-8=chop;Chorus=pad'],
  ] as const)('%s: is read and written back alike', (part, text) => {
    const read = readWishes(E9, { [part]: text });
    if (!read.ok) throw new Error(JSON.stringify(read.error));
    const { notes, textures, strikes } = read.value;
    const written = {
      notes: notesText(notes ?? new Map()),
      measures: measuresText(textures?.measures ?? []),
      strike: strikesText(strikes ?? { parts: [] }),
    };
    expect(written[part]).toBe(text);
  });

  it.each([
    ['notes', '0:1=tune:4'],
    ['notes', '1:1=tune:11'],
    ['notes', '1:1=tune'],
    ['notes', '1:1=hold:8/Q/3'],
    ['measures', '5-3=line'],
    ['measures', '5=fourths'],
    ['strike', 'hard'],
    ['strike', '0-4=chop'],
    ['texture', 'fourths'],
  ] as const)('%s “%s” is refused with what is allowed', (part, text) => {
    const read = readWishes(E9, { [part]: text });
    expect(read.ok ? [] : read.error.map(({ path }) => path)).toEqual([part]);
  });

  it('a texture of some measures takes the place of what was said of them', () => {
    const before = [{ from: 2, to: 9, texture: 'thirds' as const }];
    expect(measuresText(withMeasures(before, 4, 5, 'line'))).toBe('2-3=thirds;4-5=line;6-9=thirds');
    expect(measuresText(withMeasures(before, 2, 9, undefined))).toBe('');
  });
});

it('a strike alone is of the voicings of the chords, and asks for no texture', () => {
  const read = readWishes(E9, { strike: 'chop' });
  expect(read.ok && read.value.strikes).toBeDefined();
  expect(read.ok && read.value.textures).toBeUndefined();
  expect(Object.keys(OWN_TUNES).length).toBeGreaterThan(0);
});
