/** Listening on the page, with stand-ins for the microphone and for what works it out. */
import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import { ok, refuse, type Result } from '$lib/result';
import type { HeardGrip } from '$lib/hearing/hear';
import type { Microphone } from '$lib/sound/microphone';
import { GripListener } from '$lib/ui/hearing/gripListener.svelte';
import { barWords } from '$lib/ui/hearing/heardWords';
import { heardMore, shownCents, sumOf } from '$lib/ui/hearing/take';

const HELD = {
  hold: { neck: 1, fret: 8, slant: 0, engaged: [], strings: [4, 5] },
  wanted: [4, 5].map((string) => ({ string, midi: 70, hz: 466, lengthMm: 384 })),
  referenceHz: 440,
};
const HEARD: HeardGrip = {
  strings: [
    { sounds: true, certain: true, cents: 6, levelDb: -20 },
    { sounds: true, certain: false, cents: 40, levelDb: -20 },
  ],
  extra: [],
};

function listening(level: number, opens: Result<undefined, string> = ok(undefined)) {
  let closed = 0;
  const microphone: Microphone = {
    open: () => Promise.resolve(opens),
    samples: () => new Float32Array(32_768).fill(level),
    sampleRate: 48_000,
    close: () => {
      closed += 1;
    },
    onlost: undefined,
  };
  const listener = new GripListener(microphone, () => ({
    hear: () => Promise.resolve(ok(HEARD)),
    dispose: () => undefined,
  }));
  listener.hold(HELD);
  return { listener, microphone, closed: () => closed };
}

beforeEach(() => {
  vi.useFakeTimers();
});
afterEach(() => {
  vi.useRealTimers();
});

it('tells strings and bar, counts what is certain, and lets go of the microphone', async () => {
  const { listener, closed } = listening(0.1);
  await listener.start();
  await vi.advanceTimersByTimeAsync(1100);
  expect(listener.strings).toEqual(HEARD.strings);
  expect(listener.take[0]?.length).toBeGreaterThan(2);
  expect(listener.take[1]).toEqual([]);
  // 384 mm · (1 − 2^(−6/1200)) by the one string that is certain
  expect(listener.bar?.mm).toBeCloseTo(1.33, 2);
  listener.stop();
  expect([listener.state, closed()]).toEqual(['off', 1]);
  // the take stays to be read
  expect(sumOf(listener.take[0] ?? [])?.average).toBeCloseTo(6, 9);
});

it.each([
  [0, /^Too soft/],
  [1, /^Too loud/],
])('a sound at a level of %d is told as a sentence', async (level, sentence) => {
  const { listener } = listening(level);
  await listener.start();
  await vi.advanceTimersByTimeAsync(7000);
  expect(listener.hint).toMatch(sentence);
  listener.stop();
});

it('a microphone that is refused or goes away leaves a sentence and listens no more', async () => {
  const refused = listening(0.1, refuse('No.'));
  await refused.listener.start();
  expect([refused.listener.state, refused.listener.problem]).toEqual(['off', 'No.']);
  const lost = listening(0.1);
  await lost.listener.start();
  lost.microphone.onlost?.();
  expect(lost.listener.state).toBe('off');
  expect(lost.listener.problem).toMatch(/went away/);
});

it('a take shows the middle of its last readings, and sums up how far off they were', () => {
  const take = [3, -5, 4, 90].reduce((all, cents, at) => heardMore(all, [cents], at), [
    [],
  ] as ReturnType<typeof heardMore>);
  expect(shownCents(take[0] ?? [])).toBe(4);
  expect(sumOf(take[0] ?? [])).toEqual({ average: 25.5, worst: 90 });
  expect(sumOf([])).toBeUndefined();
});

it('the bar is told in words, and the string that is off by itself', () => {
  expect(barWords({ mm: -1.24, turnMm: 0.52, apart: [0, 0, -12], strings: [3, 4, 5] })).toBe(
    'The bar lies 1.2 mm flat, its far end 0.5 mm ahead. String 5 is −12.0 cents off the others.',
  );
  expect(barWords({ mm: 0.01, turnMm: 0, apart: [0, 0], strings: [3, 4] })).toBe(
    'The bar lies on its fret, straight.',
  );
});
