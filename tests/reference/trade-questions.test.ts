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
  // a second round, written down in the same way
  ['e9', { chord: 'Ebm' }, '2 A', 2],
  ['e9', { chord: 'Ebm' }, '9 B+C', 3],
  // F A♭ C D is a B♭9 without its root, which lies open at 6
  ['e9', { chord: 'Fm6' }, '6', 3],
  // strings 4, 5, 6 under B+C, with the open string 8 complete
  ['e9', { chord: 'F#m7' }, '0 B+C', 4],
  // string 7 is the ninth of the open position, here in the bass
  ['e9', { chord: 'F/G' }, '1', 2],
  ['e9', { chord: 'Am/E' }, '8 A', 2],
  // the half-stop on 2-3-4-5
  ['e9', { chord: 'G7' }, '3 RKR½', 8],
  // strings 9 to 5 lie open as F A C E G
  ['c6', { chord: 'Fmaj9' }, '0', 1],
  // one lever on 2-3-4-5 each, one pedal on 3-4-5-6 and 5-6-7
  ['c6', { chord: 'A7' }, '0 RKR', 3],
  ['c6', { chord: 'E7' }, '4 LKR', 4],
  ['c6', { chord: 'Em7' }, '0 P7', 4],
  ['c6', { chord: 'Cm' }, '0 P6', 4],
  ['c6', { chord: 'Am', sizes: '2' }, '0', 2],
  // P1 raises string 5 alone: a sixth under the open position, which is its relative minor seventh
  ['universal12', { chord: 'F#m7' }, '5 P1', 2],
  // P6 lowers string 8 from the root to the seventh
  ['universal12', { chord: 'G7' }, '3 P6', 3],
  ['lap6-a6', { chord: 'C#m7' }, '7', 1],
  ['double', { chord: 'Am7' }, '0', 2],
  ['double', { chord: 'Am7' }, '8 C', 4],
];

/** What is held, and the first name that a player of that tuning gives it. */
const HELD: readonly (readonly [
  BuiltInId,
  fret: string,
  controls: string,
  strings: string,
  symbol: string,
])[] = [
  ['e9', '11', 'A,LKL', '3,4,5', 'C'],
  ['e9', '1', '', '4,5,6,7', 'F/G'],
  ['c6', '0', 'P5,P6', '5,6,7,8', 'Adim7'],
  // a tuning is called by its sixth, whichever tone is lowest; over its sixth it is the minor seventh
  ['c6', '0', '', '2,3,4,5', 'C6/G'],
  ['c6', '3', '', '3,4,5,6', 'Eb6/G'],
  ['c6', '0', '', '1,2,3,4', 'Am7'],
  ['lap6-a6', '2', '', '1,2,3,4', 'G#m7'],
  ['lap6-a6', '0', '', '2,3,4,5', 'A6/E'],
  // the second home of a universal neck
  ['universal12', '0', 'RKL', '4,5,6,7', 'B6/F#'],
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
  ['G2 F3 B3 E4', 'G13(no5,no9)'],
  ['A3 C4 E4 F#4', 'Am6'],
  ['F3 G3 C4', 'Fsus2'],
  ['E3 G#3 D4 G4', 'E7#9(no5)'],
];

/** What a control is taught for: a chord that comes with the bar still, of the chord before it. */
const GIVES: readonly (readonly [BuiltInId, control: string, move: string])[] = [
  ['universal12', 'P1', 'P1 E>C#m 3-4-5'],
  ['universal12', 'P2', 'P2 E>Esus4 3-4-5'],
  ['universal12', 'RKL', 'RKL E>G#m 3-4-5'],
  ['universal12', 'LKL', 'LKL E>Fdim 3-4-5'],
  ['double', 'A', 'A E>C#m 3-4-5'],
  ['double', 'P4', 'P4 C6>Cmaj7 2-3-4-5'],
  // what the B6 side's pedals are there for: as P4, P5 and P6 of a C6 neck
  ['universal12', 'P4', 'RKL+P4 B6>Bmaj7 4-5-6-7'],
  ['universal12', 'P5', 'P5 E>C#7 9-10-11-12'],
  ['universal12', 'P6', 'P6 E>E7 4-5-6-8'],
  ['universal12', 'RKL', 'RKL Eadd9>B6 4-5-6-7'],
  ['universal12', 'RKR', 'RKR½ Emaj7>E7 2-3-4-5'],
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

  it.each(HELD)(
    'on %s at %s with “%s”, strings %s, hears %s',
    async (id, fret, held, on, symbol) => {
      const asked = ['--setup', id, '--fret', fret, '--controls', held, '--strings', on];
      const { out } = await call(['name', ...asked, '--json']);
      const { names } = JSON.parse(out) as { names: { symbol: string }[] };
      expect(names[0]?.symbol).toBe(symbol);
    },
  );

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
