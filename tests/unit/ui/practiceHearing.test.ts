/** A round that is answered by playing, with an ear that stands in for one. */
import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import { cardsOf, type CardKind } from '$lib/practice/cards';
import { playedWords } from '$lib/answers/practiceWords';
import { courseOf } from '$lib/practice/course';
import { taskOf } from '$lib/practice/task';
import { builtIn } from '$lib/setup/builtIns';
import { ok, refuse, type Result } from '$lib/result';
import { PracticeHearing, type PracticeEar } from '$lib/ui/practice/hearing.svelte';
import { Round } from '$lib/ui/practice/round.svelte';

beforeEach(() => vi.useFakeTimers());
afterEach(() => vi.useRealTimers());

const SETUP = builtIn('lap6-c6');
const COURSE = courseOf(SETUP);

interface How {
  readonly opens?: Result<undefined, string>;
  /** The kind of card that is asked, and how often it was right before. */
  readonly kind?: CardKind;
  readonly turn?: number;
}

async function listening({ opens = ok(undefined), kind = 'find', turn = 0 }: How = {}) {
  const expected: (readonly number[])[] = [];
  const ear: PracticeEar = {
    open: () => Promise.resolve(opens),
    close: vi.fn(),
    listenFor: ({ hz }) => void expected.push(hz),
    onplayed: undefined,
    onstroke: undefined,
    ontrouble: undefined,
    onlost: undefined,
  };
  const kept: string[] = [];
  const cards = COURSE.flatMap((position) => cardsOf(COURSE, position));
  const first = cards.find((each) => each.kind === kind);
  const round = new Round({
    ...{ setup: SETUP, course: COURSE },
    answers: () => new Map(),
    task: () => Promise.resolve(ok(first && taskOf(SETUP, first, turn))),
    keep: (_, { grade }) => void kept.push(grade),
    takeBack: () => undefined,
    now: () => 0,
    dayBegan: () => 0,
  });
  await round.next();
  const [next, again] = [vi.fn(), vi.fn()];
  const hearing = new PracticeHearing(ear, next, again);
  hearing.follow(round, round.task);
  await hearing.start();
  const play = (change: object): void =>
    ear.onplayed?.({
      ...{ at: 1, settled: true, right: false, sounds: [true, true, true] },
      ...{ cents: [0, 0, 0], foreign: [], ...change },
    });
  /** So many strokes, half a second apart, of strings or not. */
  const strike = (times: number, ofStrings = true): void => {
    for (let time = 0; time < times; time++) {
      ear.onstroke?.(time);
      vi.advanceTimersByTime(500);
      if (ofStrings) play({ settled: false });
    }
    vi.advanceTimersByTime(1500);
  };
  return { ear, expected, round, next, again, hearing, kept, play, strike };
}

it('expects the pitches of the position, and goes on by itself after a right one', async () => {
  const { expected, round, next, play, kept } = await listening();
  // C6 at fret 7, strings 4-5-6: D4, B3, G3 at 440 Hz, by equal temperament
  const hz = [62, 59, 55].map((midi) => 440 * 2 ** ((midi - 69) / 12));
  expect(expected).toHaveLength(1);
  expected[0]?.forEach((each, place) => expect(each).toBeCloseTo(hz[place] ?? 0, 1));
  play({ settled: false, sounds: [true, false, true] });
  expect(round.told).toBe('');
  play({ sounds: [true, false, true] });
  expect(round.told).toBe('One string is not heard.');
  play({ right: true, settled: false });
  expect(round.ended).toBe('right');
  expect(kept).toEqual(['hard']);
  expect(next).not.toHaveBeenCalled();
  vi.advanceTimersByTime(3000);
  expect(next).toHaveBeenCalledTimes(1);
});

it('takes the same chord with the same note on top at another position', async () => {
  const { round, play } = await listening();
  // G with D on top is asked, as D4, B3, G3; here B and G lie an octave lower
  expect(round.card?.position.type).toBe('');
  play({ sounds: [true, false, false], foreign: [47, 43], settled: false });
  expect(round.ended).toBeUndefined();
  // a wrong top note is none
  play({ sounds: [false, true, true], foreign: [67] });
  expect(round.ended).toBeUndefined();
  play({ sounds: [true, false, false], foreign: [47, 43] });
  expect(round.ended).toBe('right');
});

it('says why there is no microphone, and that it went away', async () => {
  const refused = await listening({
    opens: refuse('The microphone is not allowed here.'),
  });
  expect(refused.hearing.state).toBe('off');
  expect(refused.hearing.trouble).toBe('The microphone is not allowed here.');
  const lost = await listening();
  lost.ear.onlost?.('The microphone went away.');
  expect(lost.hearing).toMatchObject({ state: 'off', trouble: 'The microphone went away.' });
});

it('a name is answered by striking any string as often as its number says', async () => {
  const { round, next, strike, kept } = await listening({ kind: 'name' });
  const { task } = round;
  if (task?.kind !== 'name') throw new Error('no name is asked');
  expect(playedWords(SETUP, task)).toMatch(/as often as the number/);
  const wrong = (task.right + 1) % task.choices.length;
  strike(wrong + 1);
  expect(round.tried).toEqual([wrong]);
  strike(task.choices.length + 1);
  expect(round.told).toBe(
    `${task.choices.length + 1} strokes were heard, and there are ${task.choices.length} answers.`,
  );
  // a knock or a voice is no string
  strike(task.right + 1, false);
  expect(round.ended).toBeUndefined();
  strike(task.right + 1);
  expect(round.ended).toBe('right');
  expect(kept).toEqual(['hard']);
  vi.advanceTimersByTime(3000);
  expect(next).toHaveBeenCalledTimes(1);
});

it.each([
  ['type', 1],
  ['interval', 2],
])('what was heard is answered by playing it back: %s', async (of, turn) => {
  const { round, hearing, expected, again, play } = await listening({ kind: 'hear', turn });
  const { task } = round;
  if (task?.kind !== 'hear') throw new Error('nothing is to be heard');
  expect(task.of).toBe(of);
  // what the page plays itself is no answer
  const before = expected.length;
  void hearing.sounds(Promise.resolve(), 0.9);
  play({ right: true });
  expect(round.ended).toBeUndefined();
  await vi.advanceTimersByTimeAsync(1000);
  expect(expected).toHaveLength(before + 1);
  const strings = task.plays[0]?.strings.length;
  expect(expected.at(-1)).toHaveLength(strings ?? NaN);
  play({ right: false });
  expect(round.told).toBe('Not that. Listen again.');
  vi.advanceTimersByTime(2000);
  expect(again).toHaveBeenCalledTimes(1);
  play({ right: true });
  expect(round.ended).toBe('right');
});

it('where nobody plays the answer is shown, and playing it leads on', async () => {
  const { round, next, play, kept, ear } = await listening({ kind: 'name' });
  vi.advanceTimersByTime(50_000);
  ear.onstroke?.(1);
  vi.advanceTimersByTime(50_000);
  expect(round.ended).toBeUndefined();
  vi.advanceTimersByTime(11_000);
  expect(round.ended).toBe('shown');
  expect(kept).toEqual(['again']);
  play({ right: false });
  expect(next).not.toHaveBeenCalled();
  play({ right: true });
  expect(next).toHaveBeenCalledTimes(1);
});

it('an answer that was shown leads on after three tries as well', async () => {
  const { round, next, play } = await listening();
  round.show();
  for (const times of [0, 0, 1]) {
    play({ right: false });
    expect(next).toHaveBeenCalledTimes(times);
  }
});
