/**
 * Tunes in textures written with the form of their piece. Passes are made alike by hand: each note is played as in
 * the first of them. What is to stand in the files is read off the tunes by hand.
 */
import abcjs from 'abcjs';
import { parse } from 'musicxml-io';
import { describe, expect, it } from 'vitest';
import { inOrder } from '$lib/arrange/inOrder';
import { isPitch } from '$lib/arrange/progression';
import { struckSteps } from '$lib/arrange/strike';
import { arrangeTune, type TuneStep } from '$lib/arrange/tune';
import { noWishes } from '$lib/arrange/wishes';
import { readAbc } from '$lib/formats/read/abc';
import { placedTab } from '$lib/formats/tabText';
import { tuneFileKind } from '$lib/formats/tuneFiles';
import { tuneForm } from '$lib/formats/tuneForm';
import { tuneTab } from '$lib/formats/tuneTab';
import { builtIn } from '$lib/setup/builtIns';

const E9 = builtIn('e9');
const pieceOf = (abc: string) => {
  const read = readAbc(abc);
  if (!read.ok || read.value.piece === undefined) throw new Error('a piece was expected');
  return read.value.piece;
};
const HEAD = 'X:1\nT:Mill Race\nM:4/4\nL:1/4\nK:G\n';
/** Three measures, an ending each: eight are played, five are written. */
const ENDINGS = pieceOf(
  `${HEAD}|: "G"G B d B | "C"c e c A | "G"B d G B |1 "D7"A F D2 :|2 "D7"A F "G"G2 |]`,
);
const FINE = pieceOf(`${HEAD}"G"B d g d | "C"e c !fine!G2 | "D7"A F A c | "G"B2 !D.C.alfine!d2 |]`);

function arranged(piece: typeof ENDINGS): TuneStep[] {
  const textures = { texture: 'line', harmony: 'changes', measures: [] } as const;
  const [way] = arrangeTune(E9, piece, textures, noWishes(false), 1).ways;
  const first = new Map<string, TuneStep>();
  return (way?.steps ?? []).map((step) => {
    const place = `${step.onset.measure} ${step.onset.beat}`;
    const like = first.get(place) ?? step;
    first.set(place, like);
    return { ...like, onset: step.onset };
  });
}
const written = async (ending: string, piece: typeof ENDINGS, steps: readonly TuneStep[]) => {
  const struck = struckSteps(E9, piece, steps, undefined);
  const tune = { setup: E9, piece, steps: struck, paper: 'A4' as const };
  return new TextDecoder().decode(await tuneFileKind(`x.${ending}`)?.write(tune));
};
/** Measures in a text of tablature: bar lines of string 1, less the one that ends each line. */
const measuresIn = (tab: string): number =>
  (tab.match(/^1 F♯.*$/gmu) ?? []).reduce((sum, line) => sum + line.split('|').length - 2, 0);

interface Played {
  readonly tracks: readonly (readonly { cmd: string; pitch: number }[])[];
}

describe.each([
  ['with endings', ENDINGS, 5, [1, 2, 3, 4, 1, 2, 3, 5]],
  ['with D.C. al Fine', FINE, 4, [1, 2, 3, 4, 1, 2]],
] as const)('a tune %s that is played alike each time', (name, piece, count, played) => {
  const steps = arranged(piece);
  const form = tuneForm(piece, steps);

  it('stands there once in tablature', async () => {
    const tab = await written('txt', piece, steps);
    expect(measuresIn(tab)).toBe(count);
    expect(tab).not.toContain('written out');
    if (name === 'with endings') expect(tab).toMatch(/ 1\.[^]* 2\./u);
    else expect(tab).toContain('D.C. al Fine');
  });

  it('shows each note where it is written while it is heard', () => {
    const { places } = placedTab(tuneTab(E9, piece, struckSteps(E9, piece, steps, undefined)), 90);
    const order = played.flatMap((number) => {
      const notes = form.measures.find((each) => each.number === number)?.steps ?? [];
      return notes.map(({ index }) => index);
    });
    expect(form.shown).toEqual(order);
    // by what is heard: the place; all have one, and the same note of two passes has the same
    const placeOf = (heard: number) => places.findIndex((each) => each.heard.includes(heard));
    expect(steps.map((_, heard) => placeOf(heard))).toEqual(order.map(placeOf));
    expect(steps.map((_, heard) => placeOf(heard))).not.toContain(-1);
  });

  it('keeps its repeat in MusicXML and ABC, in which players of others play all of it', async () => {
    const score = parse(await written('musicxml', piece, steps));
    for (const part of score.parts) expect(part.measures).toHaveLength(count);
    const abc = await written('abc', piece, steps);
    expect(abc).toMatch(name === 'with endings' ? /\|:.*\|1.*:\|2/u : /!fine!.*!D\.C\.alfine!/u);
    // the player of abcjs obeys repeats and endings, and no jumps
    if (name !== 'with endings') return;
    const [tune] = abcjs.parseOnly(abc);
    const player = tune as unknown as { setUpAudio: (o: object) => Played };
    const [sung = [], steel = []] = player
      .setUpAudio({ chordsOff: true })
      .tracks.map((track) => track.filter(({ cmd }) => cmd === 'note').map(({ pitch }) => pitch));
    const notes = inOrder(piece).notes.map(({ pitch }) => (isPitch(pitch) ? pitch.midi : NaN));
    expect(sung).toEqual(notes);
    expect(steel).toEqual(notes);
  });

  it('is read back from its ABC in the same order', async () => {
    const back = pieceOf(await written('abc', piece, steps));
    const notes = (each: typeof piece) =>
      inOrder(each).notes.map(({ pitch }) => (isPitch(pitch) ? pitch.midi : NaN));
    expect(notes(back)).toEqual(notes(piece));
  });
});

describe('a chord that goes on over the end of a pass into the next one', () => {
  it('is struck anew there, so that the repeat stays a repeat', async () => {
    const piece = pieceOf(`${HEAD}|: "G"G B d B | "C"e c e c | "G"B d G2 :|`);
    const textures = { texture: 'chord-melody', harmony: 'changes', measures: [] } as const;
    const [way] = arrangeTune(E9, piece, textures, noWishes(false), 1).ways;
    const chords = (way?.steps ?? []).filter(({ onset }) => onset.beat === 1 && onset.asChord);
    // three measures, twice: every one of them begins with a chord
    expect(chords.map(({ onset }) => onset.measure)).toEqual([0, 1, 2, 0, 1, 2]);
    expect(measuresIn(await written('txt', piece, way?.steps ?? []))).toBe(3);
  });
});

describe('a pickup without a chord', () => {
  it('has none when it comes again, so that a repeat stays one where a part with chords begins with it', async () => {
    const piece = pieceOf(`${HEAD}|: B | "G"d B G B | "C"c2 "D7"A2 | "G"G3 :|`);
    const measures = [{ from: 3, to: 4, texture: 'thirds' }] as const;
    const textures = { texture: 'chord-melody', harmony: 'changes', measures } as const;
    const [way] = arrangeTune(E9, piece, textures, noWishes(false), 1).ways;
    const pickups = (way?.steps ?? []).filter(({ onset }) => onset.measure === 0);
    expect(pickups.map(({ hold }) => hold.strings.length)).toEqual([1, 1]);
    expect(measuresIn(await written('txt', piece, way?.steps ?? []))).toBe(4);
  });
});

describe('two parts that are repeated, one right behind the other', () => {
  it('share a bar line by which programs of others see where the second begins', async () => {
    const piece = pieceOf(`${HEAD}|: "G"G B d B | "C"e c e c :| |: "G"B d G2 | "D7"A F "G"G2 :|`);
    const abc = await written('abc', piece, arranged(piece));
    const [tune] = abcjs.parseOnly(abc);
    const bars = tune?.lines[0]?.staff?.[0]?.voices?.[0]?.flatMap((each) =>
      each.el_type === 'bar' ? [each.type] : [],
    );
    expect(bars?.filter((type) => type.includes('repeat'))).toEqual([
      'bar_left_repeat',
      'bar_dbl_repeat',
      'bar_right_repeat',
    ]);
  });
});

describe('a tune that is played otherwise the second time', () => {
  // the first note of the second pass moved to another string by hand
  const steps = arranged(ENDINGS).map((step, index): TuneStep => {
    const [string = 1] = step.hold.strings;
    const other = string === 5 ? 6 : 5;
    if (index !== 15) return step;
    return {
      ...step,
      hold: { ...step.hold, strings: [other] },
      strings: step.strings.map((each) => ({ ...each, string: other })),
    };
  });

  it('is written out, and says so', async () => {
    const tab = await written('txt', ENDINGS, steps);
    expect(measuresIn(tab)).toBe(8);
    expect(tab).toContain('played otherwise each time is written out');
    expect(tuneForm(ENDINGS, steps).shown).toEqual(steps.map((_, index) => index));
  });
});
