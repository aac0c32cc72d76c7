/** A sound that goes on: strokes found in time, grips told while they ring, what is played found again. */
import { describe, expect, it } from 'vitest';
import { CLEAR, EchoWatch, echoOf } from '$lib/hearing/echo';
import { noiseBurst } from '$lib/hearing/noiseBurst';
import { playedGrips } from '$lib/hearing/playedGrip';
import { SoundRing } from '$lib/hearing/ring';
import { GripStream, readingsOf } from '$lib/hearing/stream';
import { timingOf } from '$lib/hearing/timing';
import { notesOf } from '$lib/playing/schedule';
import { renderNotes } from '$lib/rendering/renderSound';
import { delayIn } from '$lib/sound/delay';
import { hzOf } from '$lib/theory/pitch';
import { randomFrom } from '../../random';

/** Grips of our own instrument: when, which pitches; each rings until a tenth before the next. */
function played(
  grips: readonly (readonly [at: number, ...midis: number[]])[],
  manner: 'together' | 'rolled' = 'together',
): { readonly samples: Float32Array; readonly sampleRate: number } {
  const notes = grips.flatMap(([at, ...midis], index) =>
    notesOf(
      midis.map((midi, string) => ({ string: string + 1, midi })),
      manner,
    ).map((note) => ({
      ...note,
      at: at + note.at,
      duration: (grips[index + 1]?.[0] ?? at + 2) - at - 0.1,
    })),
  );
  const { left, sampleRate } = renderNotes(notes, { referenceHz: 440, tail: 0.2 });
  return { samples: left, sampleRate };
}

it('a ring holds the last that came, however it came', () => {
  const ring = new SoundRing(8);
  const all = Float32Array.from({ length: 21 }, (_, i) => i + 1);
  for (const [from, to] of [
    [0, 3],
    [3, 8],
    [8, 9],
    [9, 21],
  ])
    ring.push(all.subarray(from, to));
  expect([ring.total, ring.oldest]).toEqual([21, 13]);
  expect([...ring.last(4)]).toEqual([18, 19, 20, 21]);
  expect([...ring.slice(12, 16)]).toEqual([14, 15, 16]);
  expect([...ring.last(10)]).toEqual([0, 0, 14, 15, 16, 17, 18, 19, 20, 21]);
});

describe('a grip in a sound that goes on', () => {
  // E5 C5 G4, the second time without C5, all eight cents sharp; the third rings on
  const { samples, sampleRate } = played([
    [0.3, 76.08, 72.08, 67.08],
    [2.1, 76.08, 67.08],
    [3.2, 76.08, 72.08, 67.08],
  ]);
  const hz = [76, 72, 67].map((midi) => hzOf(midi));
  const readings = readingsOf(samples, sampleRate, [{ from: 0, hz }]);

  it('is first told a quarter of a second after the stroke, then finer, then as it rings', () => {
    const first = readings.filter(({ stage }) => stage === 'first');
    expect(first).toHaveLength(3);
    for (const { at, struck = NaN } of first) {
      // the block in which it is due
      expect(at - struck).toBeGreaterThanOrEqual(0.25);
      expect(at - struck).toBeLessThan(0.32);
    }
    expect(readings.filter(({ stage }) => stage === 'last').length).toBeGreaterThanOrEqual(2);
    expect(readings.some(({ stage }) => stage === 'ringing')).toBe(true);
  });

  it('is told as it was played, each stroke once, within 15 ms of when it fell', () => {
    const grips = playedGrips(readings);
    expect(grips.map(({ right, sounds }) => [right, sounds])).toEqual([
      [true, [true, true, true]],
      [false, [true, false, true]],
      [true, [true, true, true]],
    ]);
    [0.3, 2.1, 3.2].forEach((at, index) => {
      expect(Math.abs((grips[index]?.at ?? NaN) - at)).toBeLessThan(0.015);
      expect(grips[index]?.average).toBeCloseTo(8, 0);
    });
  });

  it('that was struck before it was asked for is another’s', () => {
    const stream = new GripStream(sampleRate);
    stream.push(samples.subarray(0, sampleRate));
    stream.expect(hz);
    stream.push(samples.subarray(sampleRate, 1.3 * sampleRate));
    expect(stream.read()?.struck).toBeUndefined();
  });

  it('is judged by what was due when it was struck, not by what came last', () => {
    // C, F, and a C that should have been a G
    const chords = [
      [76, 72, 67],
      [77, 72, 69],
      [74, 71, 67],
    ] as const;
    const piece = played([
      [0.3, ...chords[0]],
      [1.3, ...chords[1]],
      [2.3, ...chords[0]],
    ]);
    const grips = chords.map((midis, at) => ({
      from: Math.max(0, at + 0.18),
      hz: midis.map((midi) => hzOf(midi)),
    }));
    const byDue = readingsOf(piece.samples, piece.sampleRate, grips);
    expect(playedGrips(byDue).map(({ right }) => right)).toEqual([true, true, false]);
    expect(byDue.filter(({ struck }) => struck !== undefined).map(({ grip }) => grip)).toEqual(
      expect.arrayContaining([0, 1, 2]),
    );
  });

  it('strings that are rolled are one stroke', () => {
    const rolled = played([[0.2, 76, 72, 67]], 'rolled');
    expect(playedGrips(readingsOf(rolled.samples, sampleRate, [{ from: 0, hz }]))).toMatchObject([
      { right: true, sounds: [true, true, true] },
    ]);
  });

  it('too loud is told by samples at full scale', () => {
    const stream = new GripStream(sampleRate);
    stream.push(
      Float32Array.from({ length: 9600 }, (_, i) =>
        Math.max(-1, Math.min(1, 2 * Math.sin(i / 20))),
      ),
    );
    // of a sine twice as high as may be, 2/3 is cut: |sin| > 1/2
    expect(stream.loudness().clipped).toBeCloseTo(2 / 3, 1);
  });
});

describe('what was played', () => {
  const random = randomFrom(7);
  const noise = (count: number, size: number): Float32Array =>
    Float32Array.from({ length: count }, () => size * (2 * random() - 1));

  it('is found in what is heard, far below noise, and nowhere else', () => {
    const burst = noiseBurst();
    const heard = noise(24_000, 0.1);
    burst.forEach((each, i) => (heard[1777 + i] = (heard[1777 + i] ?? 0) + 0.05 * each));
    const found = echoOf(burst, heard);
    expect(found?.at).toBe(1777);
    expect(found?.clear).toBeGreaterThan(CLEAR);
    expect(echoOf(burst, noise(24_000, 0.1))?.clear).toBeLessThan(CLEAR);
  });

  it('is found beside a player’s own strings where the loudspeaker brings it, softer and later', () => {
    const one = played([[0, 76, 72, 67]]).samples.subarray(24_000, 24_000 + 16_384);
    const other = played([[0, 64, 68, 71]]).samples.subarray(9000, 9000 + 38_000);
    expect(echoOf(one, other)?.clear).toBeLessThan(9);
    const both = other.map((each, i) => each + 0.1 * (one[i - 5000] ?? 0));
    expect(echoOf(one, both)?.at).toBe(5000);
  });

  it('is taken for the loudspeaker only where it comes equally late, three times in a row', () => {
    const speaker = new EchoWatch();
    expect([0.1, 0.11, 0.105].map((delay) => speaker.look(14, delay))).toEqual([
      false,
      false,
      true,
    ]);
    expect(speaker.look(3, 0.1)).toBe(false);
    const player = new EchoWatch();
    expect([0.1, 0.3, 0.02, 0.1].some((delay) => player.look(14, delay))).toBe(false);
  });

  it('tells the delay of three bursts, and says where it cannot', () => {
    const rate = 48_000;
    const [burst, dues] = [noiseBurst(), [0.4, 1.2, 2]];
    const heard = noise(3 * rate, 0.01);
    // 37.5 ms late
    for (const due of dues)
      burst.forEach((each, i) => (heard[due * rate + 1800 + i] = 0.02 * each));
    const measured = delayIn((from, to) => heard.slice(from, to), dues, rate);
    expect(measured).toMatchObject({ ok: true });
    expect(measured.ok && measured.value).toBeCloseTo(37.5, 1);
    const silent = delayIn((from, to) => new Float32Array(to - from), dues, rate);
    expect(!silent.ok && silent.error).toMatch(/did not hear/);
  });
});

it('strokes are held against what was due, with the delay taken off', () => {
  // due at 1, 2, 3; heard 50 ms late by the loudspeaker, played 10, −20 and 30 ms off
  const timing = timingOf([0.2, 1.06, 2.03, 3.08], [1, 2, 3], 0.05);
  expect(timing?.strokes.map(({ lateMs }) => Math.round(lateMs))).toEqual([10, -20, 30]);
  expect(timing?.middleMs).toBeCloseTo(10, 6);
  expect(timing?.spreadMs).toBeCloseTo(20, 6);
  expect(timingOf([1], [], 0)).toBeUndefined();
});
