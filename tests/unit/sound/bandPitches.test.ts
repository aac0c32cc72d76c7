/** What of the band the microphone may hear: while it sounds, until it has come through the slowest loudspeaker. */
import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import { bandPitches, bandPlays } from '$lib/sound/played';

beforeEach(() => void vi.useFakeTimers({ toFake: ['performance'] }));
afterEach(() => {
  vi.advanceTimersByTime(10_000);
  vi.useRealTimers();
});

it('knows a note from its beginning until it has rung out', () => {
  const now = performance.now();
  bandPlays({ hz: 110, from: now + 300, until: now + 800 });
  expect(bandPitches()).toEqual([]);
  vi.advanceTimersByTime(400);
  expect(bandPitches()).toEqual([110]);
  vi.advanceTimersByTime(900);
  expect(bandPitches()).toEqual([110]);
  vi.advanceTimersByTime(200);
  expect(bandPitches()).toEqual([]);
});

it('knows a drone until it ends, and nothing of what was taken back before it sounded', () => {
  const now = performance.now();
  const endDrone = bandPlays({ hz: 82, from: now, until: Infinity });
  const endLater = bandPlays({ hz: 98, from: now + 300, until: now + 800 });
  vi.advanceTimersByTime(60_000);
  expect(bandPitches()).toEqual([82]);
  endDrone();
  endLater();
  expect(bandPitches()).toEqual([82]);
  vi.advanceTimersByTime(700);
  expect(bandPitches()).toEqual([]);
  bandPlays({ hz: 98, from: performance.now() + 300, until: performance.now() + 800 })();
  vi.advanceTimersByTime(400);
  expect(bandPitches()).toEqual([]);
});
