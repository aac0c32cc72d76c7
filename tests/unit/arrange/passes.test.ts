/** What is repeated is played the same way each time, as a player does, and so it is written once. */
import { describe, expect, it } from 'vitest';
import { arrange } from '$lib/arrange/arrange';
import { agreeing, onsetPasses, passesOf, wishedOfWritten, withPasses } from '$lib/arrange/passes';
import type { Onset } from '$lib/arrange/onsets';
import { readProgression } from '$lib/arrange/readText';
import { noWishes } from '$lib/arrange/wishes';
import { formOf } from '$lib/formats/arrangedForm';
import { builtIn } from '$lib/setup/builtIns';

const A = 'G | Em7 | Am7 | D7 | G | C | Am7 D7';
const AABA = `[A]\n|: ${A} |1. G D7 :|2. G ||\n[B]\nC | C | G | G7 | C | A7 | D7 | D7\n[A]\n${A} | G\n`;

describe('passes of a repeat', () => {
  const setup = builtIn('e9');
  const { progression, piece } = readProgression(AABA);
  const wishes = withPasses(noWishes(false), progression, piece);

  it('are alike in an AABA of 32 measures, which is written with its repeat', () => {
    expect(progression.bars).toHaveLength(32);
    const [best] = arrange(setup, progression, wishes, 1).ways;
    const form = formOf(setup, progression, best?.steps ?? [], piece);
    expect(form.isWrittenOut).toBe(false);
    expect(form.piece.measures).toHaveLength(25);
  });

  it('take what is wished for a chord in one of them for all', () => {
    const one = { ...noWishes(false), steps: new Map([[1, { fret: 8 }]]) };
    const { steps } = withPasses(one, progression, piece);
    // eight chords and one more in measures 7 and 8: the second pass begins with the eleventh chord
    expect([...steps.keys()]).toEqual([1, 11]);
  });

  it('are left free where that is asked', () => {
    const free = { ...noWishes(false), freePasses: true };
    expect(withPasses(free, progression, piece)).toBe(free);
  });
});

describe('which chords are one chord as it is written', () => {
  const passes = (text: string): readonly number[] | undefined => {
    const read = readProgression(text);
    return passesOf(read.progression, read.piece);
  };

  it('are the chords of a measure in every pass of it', () => {
    expect(passes('|: C F | G :| Am')).toEqual([0, 1, 2, 0, 1, 2, 6]);
    // the same chord in another measure is another one
    expect(passes('|: C | C :|')).toEqual([0, 1, 0, 1]);
  });

  it('are measures without a chord, too', () => {
    expect(passes('|: N.C. | C :|')).toEqual([0, 1, 0, 1]);
  });

  it('are told by the measures that are played, an upbeat without a chord is none', () => {
    const { progression, piece } = readProgression('C | G');
    const [first] = piece?.measures ?? [];
    if (piece === undefined || first === undefined) throw new Error('no piece');
    const upbeat = { ...piece, measures: [{ ...first, chords: [] }, ...piece.measures] };
    expect(agreeing(progression, piece)?.bars).toEqual([0, 1]);
    expect(agreeing(progression, upbeat)?.bars).toEqual([undefined, 0, 1]);
    // one more measure with a chord is another piece, and so is one with other chords in a measure
    const longer = { ...piece, measures: [first, ...piece.measures] };
    expect(agreeing(progression, longer)).toBeUndefined();
    expect(agreeing(readProgression('C F | G').progression, piece)).toBeUndefined();
  });

  it('are the moments of a tune that sound the same in the same place', () => {
    const onset = (measure: number, midi: number, beat = 0): Onset =>
      ({
        measure,
        beat,
        texture: 'melody',
        melody: { midi },
        melodyLasts: false,
      }) as unknown as Onset;
    expect(onsetPasses([onset(0, 60), onset(0, 62), onset(0, 60)])).toEqual([0, 1, 0]);
    expect(onsetPasses([onset(0, 60), onset(1, 60), onset(0, 60, 1)])).toBeUndefined();
  });

  it('are none where every measure is played once', () => {
    expect(passes('C | C | G')).toBeUndefined();
    expect(passesOf(readProgression('C | C').progression, undefined)).toBeUndefined();
    // the piece of another progression
    const { piece } = readProgression('|: C :|');
    expect(passesOf(readProgression('C | C | C').progression, piece)).toBeUndefined();
  });

  it('take together what is wished of them, what is said later before what was said first', () => {
    const wished = wishedOfWritten(
      new Map([
        [0, { fret: 3, octaveDown: true, except: ['one'] }],
        [2, { fret: 8, except: ['two', 'one'] }],
        [3, { fret: 5 }],
      ]),
      [0, 1, 0, 1],
    );
    expect([...wished]).toEqual([
      [0, { fret: 8, octaveDown: true, except: ['one', 'two'] }],
      [1, { fret: 5 }],
    ]);
  });
});
