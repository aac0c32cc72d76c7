/**
 * What a pupil asks in a lesson, and what the teacher would say: common practice of the trade and of
 * harmony, from memory, no published source. Written down before the program was asked, the reason
 * beside each; where the expectation was musically wrong, that is said beside it.
 */
import { describe, expect, it } from 'vitest';
import { answer } from '$lib/answers/answer';
import { nearest } from '$lib/answers/nearest';
import { readQuestion, type QuestionTexts } from '$lib/answers/question';
import { builtIn, type BuiltInId } from '$lib/setup/builtIns';
import { engagedText } from '$lib/setup/engagedText';
import { chordInKey } from '$lib/coverage/inKey';
import { keyAt, lessonOf } from '$lib/coverage/lesson';
import { yardstick } from '$lib/coverage/yardstick';
import { EVERYDAY_REPERTOIRE } from '$lib/theory/repertoire';
import { call } from '../unit/cli/calling';
import { wayText } from '../unit/search/asking';

/** The different positions of an answer in their order, octaves folded: `8 A`, slants as `8/+1`. */
function positionsOf(id: BuiltInId, texts: QuestionTexts): string[] {
  const setup = builtIn(id);
  const read = readQuestion(setup, texts);
  if (!read.ok) throw new Error(JSON.stringify(read.error));
  const found = answer(setup, read.value);
  const positions = Array.from({ length: Math.min(400, found.count) }, (_, row) => {
    const { voicing } = found.at(row);
    return `${voicing.fret % 12} ${wayText(voicing.ways[0] ?? [])}`.trim();
  });
  return [...new Set(positions)];
}

const FIRST: readonly (readonly [BuiltInId, QuestionTexts, string, number])[] = [
  // string 9 is the seventh of the open position
  ['e9', { chord: 'F#7' }, '2', 1],
  // the pedal A minor, three frets above the open chord of its relative
  ['e9', { chord: 'Bm' }, '10 A', 2],
  // string 2 is the major seventh of the open position
  ['e9', { chord: 'Gmaj7' }, '3', 3],
  // C has the minor seventh on 5-6-8-10, a flat key's as well as a sharp key's
  ['e9', { chord: 'Ebm7' }, '2 C', 1],
  // a half-diminished chord is a ninth chord without its root: D9 lies open at 10
  ['e9', { chord: 'F#m7b5' }, '10', 3],
  // B suspends the third, string 9 has the seventh
  ['e9', { chord: 'A7sus4' }, '5 B', 3],
  // two strings: root and third of the open position
  ['e9', { chord: 'G', sizes: '2' }, '3', 1],
  // strings 5 and 6 are a minor third apart with nothing engaged
  ['e9', { chord: 'Am', sizes: '2' }, '1', 3],
  // one string: the root of the open position
  ['e9', { chord: 'C', sizes: '1' }, '8', 2],
  ['c6', { chord: 'Bb6' }, '10', 1],
  // pedal 4 raises the sixth to the major seventh
  ['c6', { chord: 'Ebmaj7' }, '3 P4', 1],
  // pedal 4 raises the sixth of the bar's chord to its third: root, third, thirteenth over the F of string 9.
  // Written down at first was 5 P4+P5 among the first five: pedals 5 and 4 do make it, but only in grips that
  // miss out two strings and more, and the same four tones are easier under pedal 4 alone
  ['c6', { chord: 'G13' }, '0 P4', 4],
  // 5+6 make the diminished chord; it lies every three frets
  ['c6', { chord: 'C#dim7' }, '1 P5+P6', 4],
  // the B6 side: eight frets above the nut, as B6 lies at the nut
  ['universal12', { chord: 'G6' }, '8 RKL', 6],
  ['universal12', { chord: 'B6' }, '0 RKL', 3],
  ['universal12', { chord: 'G#m7' }, '0 RKL', 3],
  ['universal12', { chord: 'A9' }, '8 P5+RKL', 6],
  // the E9 side stays first for plain majors
  ['universal12', { chord: 'B' }, '7', 1],
  ['lap6-c6', { chord: 'Bb' }, '10', 1],
  ['lap6-c6', { chord: 'C', sizes: '2' }, '0', 1],
  ['lap6-a6', { chord: 'G6' }, '10', 1],
  // on strings 1 and 2 (a major third) the far end leads by two frets: the tritone of a seventh chord
  ['lap6-c6', { chord: 'E7', sizes: '2', slants: 'on' }, '8', 3],
  ['double', { chord: 'F6' }, '5', 2],
  ['double', { chord: 'Bb' }, '6', 2],
];

const NAMES: readonly (readonly [notes: string, symbol: string])[] = [
  ['F3 A3 C4 E4 G4', 'Fmaj9'],
  ['Eb3 G3 Bb3 D4', 'Ebmaj7'],
  // third and seventh make the chord, the fifth may be missing
  ['A3 C#4 G4 B4', 'A9(no5)'],
  ['E3 G3 B3 D4 F#4', 'Em9'],
  ['B3 D4 F4 A4', 'Bm7b5'],
  ['C3 F3 G3 Bb3', 'C7sus4'],
  // every tone of a diminished seventh can be its root: the lowest is
  ['G3 Bb3 Db4 E4', 'Gdim7'],
  ['E3 G3 C4', 'C/E'],
];

/** What a control is taught for: a chord that comes with the bar still, of the chord before it. */
const GIVES: readonly (readonly [BuiltInId, control: string, move: string])[] = [
  ['universal12', 'P1', 'P1 E>C#m 3-4-5'],
  ['universal12', 'P2', 'P2 E>Esus4 3-4-5'],
  ['universal12', 'RKL', 'RKL E>G#m 3-4-5'],
  ['universal12', 'LKL', 'LKL E>Fdim 3-4-5'],
  ['double', 'A', 'A E>C#m 3-4-5'],
];

/** Nothing is there as it was asked: what is offered works. */
const NOTHING: readonly (readonly [BuiltInId, QuestionTexts])[] = [
  ['lap6-c6', { chord: 'Gdim', match: 'complete' }],
  ['lap6-a6', { chord: 'Adim7' }],
  ['square6-g', { chord: 'Em', match: 'complete' }],
  ['square6-g', { chord: 'G7', match: 'complete' }],
  // a straight bar in C6 has no tritone; written down at first was E7 on two strings, which root and third are too
  ['lap6-c6', { chord: 'Bdim', slants: 'off', match: 'complete' }],
];

describe('a pupil who asks for', () => {
  it.each(FIRST)('%s %j hears of “%s” among the first %d', (id, texts, place, within) => {
    expect(positionsOf(id, texts).slice(0, within)).toContain(place);
  });

  it.each(NAMES)('the name of %s hears %s', async (notes, symbol) => {
    const { out } = await call(['name', '--notes', notes, '--json']);
    const { names } = JSON.parse(out) as { names: { symbol: string }[] };
    expect(names[0]?.symbol).toBe(symbol);
  });

  it.each(GIVES)('%s %s hears of %s', (id, control, move) => {
    const by = yardstick(EVERYDAY_REPERTOIRE);
    const lesson = lessonOf(builtIn(id), control, by);
    const symbol = (number: number): string =>
      chordInKey(by, number, 0, keyAt(lesson, 1, 0)).symbol;
    const told = lesson.short.moves.flatMap(({ held, pressed, was, is, grips }) =>
      grips.map(({ strings }) =>
        [engagedText([...held, pressed]), `${symbol(was)}>${symbol(is)}`, strings.join('-')].join(
          ' ',
        ),
      ),
    );
    expect(told).toContain(move);
  });

  it.each(NOTHING)('%s %j, which is not there, is offered what is', (id, texts) => {
    const countOf = (asked: QuestionTexts): number => {
      const read = readQuestion(builtIn(id), asked);
      if (!read.ok) throw new Error(JSON.stringify(read.error));
      return answer(builtIn(id), read.value).count;
    };
    expect(countOf(texts)).toBe(0);
    const offers = nearest(builtIn(id), texts);
    expect(offers.length).toBeGreaterThan(0);
    for (const { change, count } of offers) expect(countOf({ ...texts, ...change })).toBe(count);
  });
});
