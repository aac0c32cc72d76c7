/** Listening on the page, with stand-ins for the microphone and for the worker. */
import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import type { HeardGrip } from '$lib/hearing/hear';
import type { GripReading } from '$lib/hearing/stream';
import { ok, refuse, type Result } from '$lib/result';
import type { Microphone } from '$lib/sound/microphone';
import { barAfter, shownAfter } from '$lib/ui/hearing/calm';
import { standsOut } from '$lib/ui/hearing/controlWords';
import type { Ear } from '$lib/ui/hearing/ear';
import { GripEar } from '$lib/ui/hearing/gripEar';
import { GripListener } from '$lib/ui/hearing/gripListener.svelte';
import { barWords, lateWords } from '$lib/ui/hearing/heardWords';
import { heardMore, sumOf, traceOf, wholeTake } from '$lib/ui/hearing/take';
import { builtIn } from '$lib/setup/builtIns';

const E9 = builtIn('e9');
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
const reading = (heard: HeardGrip, stage: GripReading['stage'] = 'first'): GripReading => ({
  at: 1,
  seconds: 0.25,
  stage,
  heard,
  ...(stage === 'ringing' ? {} : { struck: 0.7 }),
});

function listening(opens: Result<undefined, string> = ok(undefined)) {
  const closed = vi.fn();
  const microphone: Microphone = {
    open: () => Promise.resolve(opens),
    samples: () => undefined,
    sampleRate: 48_000,
    close: closed,
    onlost: undefined,
  };
  const [expects, pushes, disposes] = [vi.fn(), vi.fn(), vi.fn()];
  const ear: Ear = {
    expect: expects,
    push: pushes,
    plays: () => undefined,
    dispose: disposes,
    onreading: undefined,
    onloudness: undefined,
    onecho: undefined,
    onlost: undefined,
  };
  const listener = new GripListener(new GripEar(microphone, () => ear));
  listener.hold(HELD);
  return { listener, microphone, ear, closed, expects, pushes, disposes };
}

beforeEach(() => {
  vi.useFakeTimers();
});
afterEach(() => {
  vi.useRealTimers();
});

it('tells strings and bar, counts what is certain, and lets go of the microphone', async () => {
  const { listener, ear, microphone, closed, expects, pushes, disposes } = listening();
  await listener.start();
  expect(expects).toHaveBeenCalledWith({ hz: [466, 466], referenceHz: 440 }, 48_000);
  microphone.onsound?.({ samples: new Float32Array(8), at: 0.5 });
  expect(pushes).toHaveBeenCalledOnce();
  ear.onreading?.(reading(HEARD));
  ear.onreading?.(reading(HEARD, 'last'));
  expect(listener.strings.map(({ sounds, cents }) => [sounds, cents])).toEqual([
    [true, 6],
    [true, undefined],
  ]);
  expect(listener.take.map(({ length }) => length)).toEqual([2, 0]);
  // two looks at one stroke are one grip that was played
  expect(listener.played).toMatchObject([{ at: 0.7, settled: true, right: true, average: 6 }]);
  // 384 mm · (1 − 2^(−6/1200)) by the one string that is certain
  expect(listener.bar?.mm).toBeCloseTo(1.33, 2);
  closed.mockClear();
  listener.stop();
  expect(listener.state).toBe('off');
  expect(closed).toHaveBeenCalledOnce();
  expect(disposes).toHaveBeenCalledOnce();
  // the take stays to be read
  expect(sumOf(listener.take[0] ?? [])?.average).toBeCloseTo(6, 9);
});

it('the table by string goes on from chord to chord, and begins anew with listening', async () => {
  const { listener, ear } = listening();
  await listener.start();
  const heard = (...cents: number[]): HeardGrip => ({
    strings: cents.map((each) => ({ sounds: true, certain: true, cents: each })),
    extra: [],
  });
  ear.onreading?.(reading(heard(6, -2)));
  const next = { ...HELD.hold, fret: 3, strings: [5, 6] };
  const wanted = [5, 6].map((string) => ({ string, midi: 65, hz: 349, lengthMm: 512 }));
  listener.hold({ ...HELD, hold: next, wanted });
  // of the present chord nothing is heard yet
  expect(listener.take.flat()).toEqual([]);
  ear.onreading?.({ ...reading(heard(-8, 1)), struck: 2 });
  expect(listener.take.map((each) => each.map(({ cents }) => cents))).toEqual([[-8], [1]]);
  // string 5: 2 and 8 cents off
  expect(wholeTake(listener.totals)).toEqual([
    { string: 4, average: 6, worst: 6 },
    { string: 5, average: 5, worst: -8 },
    { string: 6, average: 1, worst: 1 },
  ]);
  expect(listener.chords).toBe(2);
  expect(listener.played.map(({ at }) => at)).toEqual([0.7, 2]);
  listener.stop();
  await listener.start();
  expect([listener.totals.size, listener.chords, listener.played.length]).toEqual([0, 0, 0]);
});

// levels are root mean squares of full scale; what is told stands in the sentence
it.each([
  ['too soft', { level: 0.0005, clipped: 0 }, /^Too soft/],
  ['no sound at all', { level: 0, clipped: 0 }, /no sound at all/],
  ['too loud', { level: 0.5, clipped: 0.05 }, /^Too loud/],
])('what is %s is told as a sentence, and goes when it is over', async (_, loudness, sentence) => {
  const { listener, ear } = listening();
  await listener.start();
  ear.onloudness?.(0.1, { level: 0.1, clipped: 0 });
  expect(listener.hint).toBe('');
  for (let at = 0.2; at < 8; at += 0.1) ear.onloudness?.(at, loudness);
  expect(listener.hint).toMatch(sentence);
  for (let at = 8; at < 12; at += 0.1) ear.onloudness?.(at, { level: 0.1, clipped: 0 });
  expect(listener.hint).toBe('');
});

it('what the page plays and the microphone hears is told: use headphones', async () => {
  const { listener, ear } = listening();
  await listener.start();
  ear.onecho?.(true);
  ear.onloudness?.(1, { level: 0.1, clipped: 0 });
  expect(listener.hint).toMatch(/Use headphones/);
});

it('a microphone that is refused or goes away leaves a sentence and listens no more', async () => {
  const refused = listening(refuse('No.'));
  await refused.listener.start();
  expect([refused.listener.state, refused.listener.problem]).toEqual(['off', 'No.']);
  const lost = listening();
  await lost.listener.start();
  lost.microphone.onlost?.();
  expect(lost.listener.state).toBe('off');
  expect(lost.listener.problem).toMatch(/went away/);
  const broken = listening();
  await broken.listener.start();
  broken.ear.onlost?.('Reload.');
  expect([broken.listener.state, broken.listener.problem]).toEqual(['off', 'Reload.']);
});

it('the picture is calm: one missed look takes no string away, a trembling figure stands', () => {
  const said = (cents: number | undefined): HeardGrip => ({
    strings: [
      cents === undefined
        ? { sounds: false, certain: true }
        : { sounds: true, certain: true, cents, unsure: 0.1 },
    ],
    extra: [],
  });
  let shown = shownAfter([], reading(said(3)));
  shown = shownAfter(shown, reading(said(3.3), 'ringing'));
  expect(shown[0]?.cents).toBe(3);
  shown = shownAfter(shown, reading(said(undefined), 'ringing'));
  expect(shown[0]?.sounds).toBe(true);
  shown = shownAfter(shown, reading(said(5), 'ringing'));
  expect(shown[0]?.cents).toBe(5);
  shown = shownAfter(shown, reading(said(undefined), 'ringing'));
  shown = shownAfter(shown, reading(said(undefined), 'ringing'));
  expect(shown[0]?.sounds).toBe(false);
  // a fresh stroke is believed at once
  shown = shownAfter(shownAfter([], reading(said(3))), reading(said(undefined)));
  expect(shown[0]?.sounds).toBe(false);
  const bar = { mm: 1, turnMm: 0, apart: [0], strings: [4] };
  expect(barAfter(bar, { ...bar, mm: 1.1 })).toBe(bar);
  expect(barAfter(bar, { ...bar, mm: 1.3 })?.mm).toBe(1.3);
});

it('a take sums up how far strings were off, and its trace breaks where nothing sounded', () => {
  const [take = []] = [3, -5, 4, 90].reduce<ReturnType<typeof heardMore>>(
    (all, cents, at) => heardMore(all, [cents], at),
    [[]],
  );
  expect(sumOf(take)).toEqual({ average: 25.5, worst: 90 });
  expect(sumOf([])).toBeUndefined();
  // 12 s are 100 wide, 25 cents are 50 high
  const lines = traceOf(
    [
      { atMs: 6000, cents: 0 },
      { atMs: 6600, cents: 12.5 },
      { atMs: 9000, cents: -25 },
    ],
    12_000,
  );
  expect(lines).toEqual(['49.0,50.0 50.0,50.0 55.0,25.0', '74.0,100.0 75.0,100.0']);
});

it('the bar is told in words', () => {
  expect(barWords({ mm: -1.24, turnMm: 0.52, apart: [0, 0], strings: [3, 4] })).toEqual({
    lies: '1.2 mm flat',
    turned: 'far end 0.5 mm ahead',
  });
  // 1.24 / 25.4 = 0.0488, 0.52 / 25.4 = 0.0205
  expect(barWords({ mm: -1.24, turnMm: 0.52, apart: [0, 0], strings: [3, 4] }, 'us')).toEqual({
    lies: '0.049 in flat',
    turned: 'far end 0.020 in ahead',
  });
  expect(barWords({ mm: 0.01, turnMm: 0, apart: [0, 0], strings: [3, 4] })).toEqual({
    lies: 'on its fret',
    turned: 'straight',
  });
  expect([12.4, -12.4, 1].map(lateWords)).toEqual(['12 ms late', '12 ms early', 'in time']);
});

it('a string that is off by itself is told by the control that moves it', () => {
  // on E9 pedal A raises string 5, pedal B string 3
  const hold = { ...HELD.hold, engaged: [{ id: 'A', state: 'full' as const }] };
  const bar = { mm: 0, turnMm: 0, apart: [0, -2, -14], strings: [3, 4, 5] };
  expect(standsOut(E9, hold, bar).map(({ words }) => words)).toEqual([
    'A is 14 cents short of its stop on string 5.',
  ]);
  expect(standsOut(E9, HELD.hold, bar).map(({ words }) => words)).toEqual([
    'String 5 is 14 cents flat of the others.',
  ]);
  expect(standsOut(E9, HELD.hold, { ...bar, strings: [4, 5], apart: [0, 14] })).toEqual([]);
});
