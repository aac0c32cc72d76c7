/**
 * What a teacher says of each control of E9 and C6: common practice of the trade, from memory; no
 * published source. The bar lies at the nut, and everything moves up the neck with it.
 */
import { describe, expect, it } from 'vitest';
import { builtIn, type BuiltInId } from '$lib/setup/builtIns';
import { engagedText } from '$lib/setup/engagedText';
import { EVERYDAY_REPERTOIRE } from '$lib/theory/repertoire';
import { chordInKey } from '$lib/coverage/inKey';
import { keyAt, lessonOf, type Lesson } from '$lib/coverage/lesson';
import { yardstick } from '$lib/coverage/yardstick';

const by = yardstick(EVERYDAY_REPERTOIRE);

const symbol = (lesson: Lesson, chordNumber: number): string =>
  chordInKey(by, chordNumber, 0, keyAt(lesson, 1, 0)).symbol;

/** `RKR½ Emaj7>E7 2-3-4-5`, one for each grip. */
const movesOf = (lesson: Lesson, list: 'short' | 'long' = 'short'): string[] =>
  (list === 'short' ? lesson.short.moves : lesson.moves).flatMap((move) =>
    move.grips.map(({ strings }) => {
      const held = move.held.length === 0 ? '' : `${engagedText(move.held)} `;
      const chords = `${symbol(lesson, move.was)}>${symbol(lesson, move.is)}`;
      return `${held}${engagedText([move.pressed])} ${chords} ${strings.join('-')}`;
    }),
  );

/** `A+LKL C# 3-4-5`, one for each grip. */
const positionsOf = (lesson: Lesson): string[] =>
  lesson.short.positions.flatMap(({ engaged, chordNumber, grips }) =>
    grips.map(
      (strings) => `${engagedText(engaged)} ${symbol(lesson, chordNumber)} ${strings.join('-')}`,
    ),
  );

const said = (id: BuiltInId, control: string): Lesson => lessonOf(builtIn(id), control, by);

describe('from the open position, with the bar still', () => {
  it.each([
    // the sixth beside root and third: the relative minor, on all four everyday grips
    ['e9', 'A', 'A E>C#m 3-4-5'],
    ['e9', 'A', 'A E>C#m 6-8-10'],
    // the third raised: the suspension
    ['e9', 'B', 'B E>Esus4 3-4-5'],
    ['e9', 'B', 'B E>Esus4 6-8-10'],
    // on 5-6-8 only string 5 of the two is picked, so C does what A does
    ['e9', 'C', 'C E>C#m 5-6-8'],
    // the root raised under the third and fifth: diminished
    ['e9', 'LKL', 'LKL E>Fdim 3-4-5'],
    // the root lowered to the leading note: the minor on the third
    ['e9', 'LKR', 'LKR E>G#m 3-4-5'],
    ['e9', 'LKR', 'LKR E>G#m 6-8-10'],
    // the half-stop: the flat seventh, where the leading note was
    ['e9', 'RKR', 'RKR½ Emaj7>E7 2-3-4-5'],
    // all the way: the sixth; and on string 9 from the flat seventh down to it
    ['e9', 'RKR', 'RKR Emaj7>E6 2-3-4-5'],
    ['e9', 'RKR', 'RKR E7>E6 5-6-8-9'],
    // the leading note up to the root
    ['e9', 'RKL', 'RKL Emaj7>E 2-3-4-5'],
    ['c6', 'P4', 'P4 C6>Cmaj7 2-3-4-5'],
    ['c6', 'P5', 'P5 F>D7 7-8-9-10'],
    ['c6', 'P5', 'P5 Fmaj7>D9 6-7-8-9-10'],
    ['c6', 'P6', 'P6 C6>F9 2-3-4-5-6'],
    ['c6', 'P6', 'P6 C>Cm 5-6-7'],
    ['c6', 'P7', 'P7 C6>Cmaj9 3-4-5-6-7'],
    ['c6', 'P8', 'P8 Am7>A7 5-6-7-8'],
    ['c6', 'LKR', 'LKR C6>C7 2-3-4-5'],
    ['c6', 'RKL', 'RKL C>Em 1-2-3'],
    ['c6', 'RKR', 'RKR Am>A 2-3-4'],
  ] as const)('%s, %s: %s', (id, control, move) => {
    expect(movesOf(said(id, control))).toContain(move);
  });

  it.each([
    ['e9', 'A', 'A E>C#m'],
    ['e9', 'B', 'B E>Esus4'],
    ['e9', 'LKL', 'LKL E>Fdim'],
    ['e9', 'LKR', 'LKR E>G#m'],
    ['e9', 'RKR', 'RKR½ Emaj7>E7'],
    ['c6', 'P4', 'P4 C6>Cmaj7'],
    ['c6', 'P8', 'P8 Am7>A7'],
    ['c6', 'LKR', 'LKR C6>C7'],
    ['c6', 'RKR', 'RKR Am7>A7'],
    // the lever of a universal neck's second home by the chord that it makes, which players lock; the pedals of that
    // side from there, those of the other side from the open position
    ['universal12', 'RKL', 'RKL Eadd9>B6'],
    ['universal12', 'P4', 'RKL P4 B6>Bmaj7'],
    ['universal12', 'P1', 'P1 E>C#m'],
    ['universal12', 'P2', 'P2 E>Esus4'],
  ] as const)('%s, %s is told first by %s', (id, control, move) => {
    const [first = ''] = movesOf(said(id, control));
    expect(first.split(' ').slice(0, -1).join(' ')).toBe(move);
  });
});

describe('with each other control', () => {
  it.each([
    ['A', 'A+B A 3-4-5'],
    ['A', 'A+LKL C# 3-4-5'],
    ['B', 'A+B A 5-6-8'],
    ['B', 'B+C F#m 3-4-5'],
    // third and seventh of B7 over its root on string 5
    ['B', 'B+LKR B7 3-4-5'],
    ['C', 'B+C F#m 4-5-6'],
    ['LKL', 'A+LKL C# 4-5-6'],
    ['LKR', 'B+LKR B7 4-5-6'],
    ['LKV', 'A+B+LKV Am 3-4-5'],
    ['LKV', 'LKV+RKL F#7 4-5-6'],
    // the fourth of the four that a player of the A+B position learns: its flat seventh on string 1
    ['RKL', 'A+B+RKL A7 1-3-4-5'],
    ['RKL', 'B+RKL Em 4-5-6'],
  ] as const)('E9, %s: %s', (control, position) => {
    expect(positionsOf(said('e9', control))).toContain(position);
  });

  it.each([
    // three tones of the diminished seventh that P5 and P6 make together
    ['P6', 'P5+P6 Cdim 5-6-7'],
    ['P7', 'P7+P8 A9 4-5-6-7-8'],
    ['RKR', 'P5+RKR F#m 3-4-5'],
  ] as const)('C6, %s: %s', (control, position) => {
    const { short, everyday } = said('c6', control);
    expect(short.positions.length).toBeGreaterThan(0);
    const lesson = said('c6', control);
    const all = { ...lesson, short: { ...short, positions: everyday } };
    expect(positionsOf(all)).toContain(position);
  });
});

describe('chords that nothing as easy gives', () => {
  /** `A+LKL C# 3-4-5, 4-5-6`, the first ones. */
  const opens = (control: string): string[] => {
    const lesson = said('e9', control);
    return lesson.opens.map(
      ({ engaged, chordNumber, grips }) =>
        `${engagedText(engaged)} ${symbol(lesson, chordNumber)} ${grips.map((strings) => strings.join('-')).join(', ')}`,
    );
  };

  it('LKL brings A+LKL on the two high grips first', () => {
    expect(opens('LKL')[0]).toMatch(/^A\+LKL C# 3-4-5, 4-5-6\b/);
  });

  it('B brings A+B, then B+C, before anything with three controls more', () => {
    const all = opens('B');
    const at = (start: string): number => all.findIndex((each) => each.startsWith(start));
    expect(all[0]).toMatch(/^A\+B A 3-4-5\b/);
    expect(at('B+C F#m ')).toBeGreaterThan(0);
    expect(at('B+C F#m ')).toBeLessThan(at('A+B+LKV+RKL'));
  });

  it('what C brings begins with the B+C minor', () => {
    expect(opens('C')[0]).toMatch(/^B\+C F#m 3-4-5\b/);
  });
});

it.each(['e9', 'c6'] as const)('no control of %s is without an answer', (id) => {
  for (const control of builtIn(id).controls) {
    const { short } = lessonOf(builtIn(id), control.id, by);
    expect(short.moves.length + short.positions.length, control.id).toBeGreaterThan(0);
  }
});

it('spells one line in one way: the open chord’s key', () => {
  const lesson = said('e9', 'LKL');
  expect(movesOf(lesson, 'long')).toContain('A LKL C#m>C# 5-6-8');
  expect(movesOf(lesson, 'long').filter((each) => /[A-G]b/.test(each))).toEqual([]);
});

describe('a position with another control', () => {
  // P6 takes string 8 down by two, RKL by one: the lower one is heard, and RKL is held for nothing
  it.each([
    ['universal12', 'P6', 'P6+RKL G#dim'],
    ['universal12', 'RKL', 'P6+RKL G#dim'],
  ] as const)('on %s %s does not tell %s, which is P6 alone', (id, control, position) => {
    const told = positionsOf(said(id, control));
    expect(told.length).toBeGreaterThan(0);
    expect(told.filter((each) => each.startsWith(position))).toEqual([]);
  });
});
