/** A round that is answered by playing, with an ear that stands in for one. */
import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import { cardsOf } from '$lib/practice/cards';
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

async function listening(opens: Result<undefined, string> = ok(undefined)) {
  const expected: (readonly number[])[] = [];
  const ear: PracticeEar = {
    open: () => Promise.resolve(opens),
    close: vi.fn(),
    listenFor: ({ hz }) => void expected.push(hz),
    onplayed: undefined,
    ontrouble: undefined,
    onlost: undefined,
  };
  const kept: string[] = [];
  const cards = COURSE.flatMap((position) => cardsOf(COURSE, position));
  const round = new Round({
    ...{ setup: SETUP, course: COURSE },
    answers: () => new Map(),
    task: (id, turn) => {
      const card = cards.find((each) => each.id === id);
      return Promise.resolve(ok(card && taskOf(SETUP, card, turn)));
    },
    keep: (_, { grade }) => void kept.push(grade),
    takeBack: () => undefined,
    now: () => 0,
    dayBegan: () => 0,
  });
  await round.next();
  const next = vi.fn();
  const hearing = new PracticeHearing(ear, next);
  hearing.follow(round, round.task);
  await hearing.start();
  const play = (change: object): void =>
    ear.onplayed?.({
      ...{ at: 1, settled: true, right: false, sounds: [true, true, true] },
      ...{ cents: [0, 0, 0], foreign: [], ...change },
    });
  return { ear, expected, round, next, hearing, kept, play };
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

it('says why there is no microphone, and that it went away', async () => {
  const refused = await listening(refuse('The microphone is not allowed here.'));
  expect(refused.hearing.state).toBe('off');
  expect(refused.hearing.trouble).toBe('The microphone is not allowed here.');
  const lost = await listening();
  lost.ear.onlost?.('The microphone went away.');
  expect(lost.hearing).toMatchObject({ state: 'off', trouble: 'The microphone went away.' });
});
