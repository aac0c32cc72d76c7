/**
 * When each string of an arrangement is struck, rung on, bent and damped. The times are worked out by
 * hand from the rules: strings are struck low to high, 45 ms apart; hands and feet arrive with the
 * beat, a control in 90 ms, the bar over n frets in 90 ms · (1 + n/3), and neither takes more than a
 * quarter of the bar; a string that both grips have rings on over up to 7 frets while it is strong
 * (`strokes.test.ts`); a string is blocked 30 ms before it is struck anew; the last chord rings 1.5 s longer.
 *
 * Common practice on E9: with nothing pressed, strings 5, 4, 3 at fret 3 are D4 G4 B4, a G chord;
 * under A and B they are E4 G4 C5, a C chord.
 */
import { describe, expect, it } from 'vitest';
import { arrange } from '$lib/arrange/arrange';
import { readProgression } from '$lib/arrange/readText';
import { readWishes } from '$lib/answers/readWishes';
import { builtIn } from '$lib/setup/builtIns';
import { dueAt, performanceOf, type Performance, type Playing } from '$lib/playing/performance';
import { BASS, type ScheduledNote } from '$lib/playing/schedule';

const E9 = builtIn('e9');
const G = 'hold:3//3-4-5';
const C = 'hold:3/A,B/3-4-5';

/** Chords that are all held as a lock says, played. At 120 a minute a bar is 2 s. */
function played(text: string, holds: readonly string[], how: Partial<Playing> = {}): Performance {
  const { progression, faults } = readProgression(
    text.includes('tempo') ? text : `tempo: 120\n${text}`,
  );
  const locks = holds.map((hold, place) => (hold === '' ? '' : `${place + 1}=${hold}`)).join(';');
  const wishes = readWishes(E9, { locks, sizes: '2-6' });
  if (!wishes.ok || faults.length > 0) throw new Error('the piece cannot be read');
  const [way] = arrange(E9, progression, wishes.value, 1).ways;
  if (way?.steps.length !== holds.filter((hold) => hold !== '').length)
    throw new Error('not every chord can be held so');
  return performanceOf({
    setup: E9,
    progression,
    steps: way.steps,
    pitchesOf: ({ hold }) =>
      hold.strings.map((string, at) => ({ string, midi: hold.pitches[at] ?? NaN })),
    ...how,
  });
}

/** Every stroke of a string: when, at what pitch, until when, and its glides. */
const strokesOf = ({ notes }: Performance, string: number) =>
  notes
    .filter((note) => note.string === string)
    .map(({ at, midi, duration, glides }) => ({
      at: near(at),
      midi,
      until: near(at + duration),
      glides: (glides ?? []).map((glide) => ({
        ...glide,
        at: near(glide.at),
        over: near(glide.over),
      })),
    }));
/** To a tenth of a millisecond: sums of binary fractions are not exact. */
const near = (seconds: number): number => Math.round(seconds * 10_000) / 10_000;
const clicksOf = ({ notes }: Performance) =>
  notes.filter(({ string }) => string === BASS).map(({ at, level }) => [near(at), level]);
const strokeTimes = ({ notes }: { notes: readonly ScheduledNote[] }) =>
  notes.filter(({ string }) => string !== BASS).map(({ string, at }) => [string, near(at)]);

describe('a chord', () => {
  it('is struck from its lowest string to its highest and rings beyond its time', () => {
    const one = played('G', [G]);
    expect(strokesOf(one, 5)).toEqual([{ at: 0, midi: 62, until: 3.5, glides: [] }]);
    expect(strokesOf(one, 4)).toEqual([{ at: 0.045, midi: 67, until: 3.5, glides: [] }]);
    expect(strokesOf(one, 3)).toEqual([{ at: 0.09, midi: 71, until: 3.5, glides: [] }]);
    expect(one.length).toBe(2);
    expect(one.due).toEqual([{ index: 0, at: 0 }]);
  });

  it('is struck with other pauses, or all at once, where that is asked', () => {
    expect(strokeTimes(played('G', [G], { apart: 0 }))).toEqual([
      [5, 0],
      [4, 0],
      [3, 0],
    ]);
    expect(strokeTimes(played('G', [G], { apart: 0.1 }))).toEqual([
      [5, 0],
      [4, 0.1],
      [3, 0.2],
    ]);
  });

  it('sounds as it is heard: to a part of a cent, and low to high by that', () => {
    const heard = played('G', [G], {
      pitchesOf: () => [
        { string: 3, midi: 70.9 },
        { string: 4, midi: 67.02 },
        { string: 5, midi: 67.03 },
      ],
    });
    expect(heard.notes.map(({ string, midi }) => [string, midi])).toEqual([
      [4, 67.02],
      [5, 67.03],
      [3, 70.9],
    ]);
  });
});

describe('from chord to chord', () => {
  it('controls bend the strings that ring on, in time to arrive with the beat', () => {
    const two = played('G | C', [G, C]);
    expect(strokesOf(two, 5)).toEqual([
      { at: 0, midi: 62, until: 5.5, glides: [{ at: 1.91, over: 0.09, to: 64, by: 'pull' }] },
    ]);
    // the common tone stays as it is
    expect(strokesOf(two, 4)).toEqual([{ at: 0.045, midi: 67, until: 5.5, glides: [] }]);
    expect(strokesOf(two, 3)).toEqual([
      { at: 0.09, midi: 71, until: 5.5, glides: [{ at: 1.91, over: 0.09, to: 72, by: 'pull' }] },
    ]);
  });

  it('and back again while the strings carry, each bend from where the last one led', () => {
    // a bar is 1.2 s: the third chord begins 2.4 s after the strokes
    const back = played('tempo: 200\nG | C | G', [G, C, G]);
    expect(strokesOf(back, 5)).toEqual([
      {
        at: 0,
        midi: 62,
        until: 5.1,
        glides: [
          { at: 1.11, over: 0.09, to: 64, by: 'pull' },
          { at: 2.31, over: 0.09, to: 62, by: 'pull' },
        ],
      },
    ]);
  });

  it('strings that have become weak are blocked, picked again on the last beat, and bend', () => {
    // the third chord begins 4 s after the strokes, when all three have fallen too far
    const three = played('G | C | G', [G, C, G]);
    expect(strokesOf(three, 4)).toEqual([
      { at: 0.045, midi: 67, until: 3.515, glides: [] },
      { at: 3.545, midi: 67, until: 7.5, glides: [] },
    ]);
    expect(strokesOf(three, 5)).toEqual([
      { at: 0, midi: 62, until: 3.47, glides: [{ at: 1.91, over: 0.09, to: 64, by: 'pull' }] },
      { at: 3.5, midi: 64, until: 7.5, glides: [{ at: 3.91, over: 0.09, to: 62, by: 'pull' }] },
    ]);
  });

  it('the bar leads what rings along the neck, in a longer time over more frets', () => {
    // 2 frets: 0.09 · (1 + 2/3) = 0.15; 7 frets: 0.09 · (1 + 7/3) = 0.3
    const near2 = played('G | A', [G, 'hold:5//3-4-5']);
    expect(strokesOf(near2, 5)).toEqual([
      { at: 0, midi: 62, until: 5.5, glides: [{ at: 1.85, over: 0.15, to: 64, by: 'bar' }] },
    ]);
    const far7 = played('G | D', [G, 'hold:10//3-4-5']);
    expect(strokesOf(far7, 3)).toEqual([
      { at: 0.09, midi: 71, until: 5.5, glides: [{ at: 1.7, over: 0.3, to: 78, by: 'bar' }] },
    ]);
  });

  it('over more than seven frets the strings are blocked, and struck anew where it arrives', () => {
    const far = played('G | Eb', [G, 'hold:11//3-4-5']);
    expect(strokesOf(far, 5)).toEqual([
      { at: 0, midi: 62, until: 1.97, glides: [] },
      { at: 2, midi: 70, until: 5.5, glides: [] },
    ]);
    expect(strokeTimes(far).slice(3)).toEqual([
      [5, 2],
      [4, 2.045],
      [3, 2.09],
    ]);
  });

  it('a hand as slow as the foot takes as long as is asked, and never more than a quarter bar', () => {
    const slow = played('G | C', [G, C], { bend: 0.12 });
    expect(strokesOf(slow, 5)[0]?.glides).toEqual([{ at: 1.88, over: 0.12, to: 64, by: 'pull' }]);
    // 0.12 · (1 + 7/3) = 0.4
    const slide = played('G | D', [G, 'hold:10//3-4-5'], { bend: 0.12 });
    expect(strokesOf(slide, 5)[0]?.glides).toEqual([{ at: 1.6, over: 0.4, to: 69, by: 'bar' }]);
    // at 400 a minute a bar is 0.6 s, a quarter of it 0.15
    const quick = played('tempo: 400\nG | D', [G, 'hold:10//3-4-5']);
    expect(strokesOf(quick, 5)[0]?.glides).toEqual([{ at: 0.45, over: 0.15, to: 69, by: 'bar' }]);
  });

  it('a string that the next chord leaves out is damped just before it; a new one is struck', () => {
    const grips = played('G | G', [G, 'hold:3//4-5-6']);
    expect(strokesOf(grips, 3)).toEqual([{ at: 0.09, midi: 71, until: 1.97, glides: [] }]);
    expect(strokesOf(grips, 5)).toEqual([{ at: 0, midi: 62, until: 5.5, glides: [] }]);
    // G♯3 and three frets: B3, the only one struck then
    expect(strokesOf(grips, 6)).toEqual([{ at: 2, midi: 59, until: 5.5, glides: [] }]);
  });

  it('a chord that is written again is heard again', () => {
    const again = played('G | G', [G, G]);
    expect(strokeTimes(again)).toEqual([
      [5, 0],
      [4, 0.045],
      [3, 0.09],
      [5, 2],
      [4, 2.045],
      [3, 2.09],
    ]);
    expect(strokesOf(again, 3)[0]?.until).toBe(1.97);
  });

  it('a rest ends what rings, and nothing rings over it', () => {
    const rest = played('G | N.C. | C', [G, '', C]);
    expect(strokesOf(rest, 5)).toEqual([
      { at: 0, midi: 62, until: 1.97, glides: [] },
      { at: 4, midi: 64, until: 7.5, glides: [] },
    ]);
    expect(rest.due).toEqual([
      { index: 0, at: 0 },
      { index: 1, at: 2 },
      { index: 2, at: 4 },
    ]);
    expect(rest.length).toBe(6);
  });

  it('chords that share a bar have their part of it', () => {
    // two chords, then one that lasts three quarters
    const shared = played('G C | G . . C', [G, C, G, C]);
    expect(shared.due.map(({ at }) => near(at))).toEqual([0, 1, 2, 3.5]);
    expect(shared.length).toBe(4);
  });
});

describe('the count', () => {
  it('is a bar of clicks before the first chord, the first of them louder', () => {
    const counted = played('tempo: 120\nmetre: 3/4\nG', [G], { countIn: true });
    // three quarters at 120: a bar of 1.5 s
    expect(clicksOf(counted)).toEqual([
      [0, 0.4],
      [0.5, 0.2],
      [1, 0.2],
    ]);
    expect(strokeTimes(counted)[0]).toEqual([5, 1.5]);
    expect(counted.due).toEqual([{ index: 0, at: 1.5 }]);
    expect(counted.length).toBe(3);
  });

  it('is counted in the beats of the metre, at the speed that is played', () => {
    // six eighths are three quarters: 1.5 s at 120, 3 s at half the speed
    const counted = played('tempo: 120\nmetre: 6/8\nG', [G], { countIn: true, speed: 0.5 });
    expect(clicksOf(counted).map(([at]) => at)).toEqual([0, 0.5, 1, 1.5, 2, 2.5]);
    expect(strokeTimes(counted)[0]).toEqual([5, 3]);
  });

  it('is none where none is asked', () => {
    expect(clicksOf(played('G', [G]))).toEqual([]);
  });
});

describe('slower, a part, and round again', () => {
  it('at half the speed everything is due twice as late, and hands and feet are as quick', () => {
    const half = played('G | C', [G, C], { speed: 0.5 });
    expect(half.due.map(({ at }) => at)).toEqual([0, 4]);
    expect(half.length).toBe(8);
    // strings are weak after 4 s, and picked again on the last beat before they bend
    expect(strokesOf(half, 5)).toEqual([
      { at: 0, midi: 62, until: 2.97, glides: [] },
      { at: 3, midi: 62, until: 9.5, glides: [{ at: 3.91, over: 0.09, to: 64, by: 'pull' }] },
    ]);
  });

  it('a part begins at once, with every string struck', () => {
    const part = played('G | C | G', [G, C, G], { part: [1, 1] });
    expect(strokeTimes(part)).toEqual([
      [5, 0],
      [4, 0.045],
      [3, 0.09],
    ]);
    expect(strokesOf(part, 5)).toEqual([{ at: 0, midi: 64, until: 3.5, glides: [] }]);
    expect(part.due).toEqual([{ index: 1, at: 0 }]);
    expect(part.length).toBe(2);
  });

  it('a round ends where the next begins: blocked, and struck anew', () => {
    const rounds = played('G | C', [G, C], { rounds: 2, countIn: true });
    expect(rounds.due).toEqual([
      { index: 0, at: 2 },
      { index: 1, at: 4 },
      { index: 0, at: 6 },
      { index: 1, at: 8 },
    ]);
    // counted in once
    expect(clicksOf(rounds).map(([at]) => at)).toEqual([0, 0.5, 1, 1.5]);
    expect(strokesOf(rounds, 4)).toEqual([
      { at: 2.045, midi: 67, until: 5.97, glides: [] },
      { at: 6.045, midi: 67, until: 11.5, glides: [] },
    ]);
    expect(rounds.length).toBe(10);
  });

  it('a part that is not there is nothing', () => {
    expect(played('G', [G], { part: [4, 5] })).toEqual({ notes: [], due: [], length: 0 });
  });
});

describe('whatever is played', () => {
  const long = played(
    'G | C | D7 G | N.C. | C G | G',
    [G, C, 'hold:3/B,LKR/3-4-5', G, '', C, G, G],
    {
      rounds: 2,
      countIn: true,
    },
  );

  it('the notes come in order of time', () => {
    const times = long.notes.map(({ at }) => at);
    expect(times).toEqual([...times].sort((a, b) => a - b));
  });

  it('a string is never struck while it sounds, and no glide begins before its stroke', () => {
    for (const string of [3, 4, 5]) {
      const strokes = strokesOf(long, string);
      expect(strokes.length).toBeGreaterThan(3);
      strokes.forEach(({ at, until, glides }, place) => {
        expect(until).toBeLessThanOrEqual((strokes[place + 1]?.at ?? Infinity) - 0.03 + 1e-9);
        let after = at;
        for (const glide of glides) {
          expect(glide.at).toBeGreaterThanOrEqual(after);
          after = glide.at + glide.over;
        }
        expect(after).toBeLessThanOrEqual(until);
      });
    }
  });
});

it('the chord that is due is the last that has begun', () => {
  const { due } = played('G | C', [G, C], { countIn: true });
  expect([0, 1.99, 2, 3.99, 4, 99].map((seconds) => dueAt(due, seconds))).toEqual([
    undefined,
    undefined,
    0,
    0,
    1,
    1,
  ]);
});
