/** The tuner's ear on sounds whose pitch is known, made by the formula of a stiff string. */
import { PitchDetector } from 'pitchy';
import { describe, expect, it } from 'vitest';
import { detect, LISTEN_S } from '$lib/tuning/detect';
import { runs } from '../../battery';
import { chance, struck } from './strings';

const RATE = 48_000;
const cents = (hz: number, from: number) => 1200 * Math.log2(hz / from);
const hear = (samples: Float32Array, rate = RATE) => detect(samples, rate);
const mix = (...all: Float32Array[]) =>
  Float32Array.from(all[0] ?? [], (_, i) => all.reduce((sum, each) => sum + (each[i] ?? 0), 0));

describe('struck strings from 30 to 1,000 Hz', () => {
  // three tenths of a second are all that the ear gets
  const heard = { seconds: 0.3, rate: RATE };

  it.each([
    ['quiet room', 30, 1],
    ['noisy room', 20, 1],
    ['a fan right beside', 12, 1],
  ])('%s (%i dB): every one within %f cent', (_, noiseDb, most) => {
    const random = chance(noiseDb);
    const count = runs(30, 120);
    for (let k = 0; k < count; k++) {
      const hz = 30 * (1000 / 30) ** (k / (count - 1));
      const string = {
        hz,
        // 1e-5 (.011) to 4e-4, twice as stiff as any of the built-in setups
        stiffness: 10 ** (-5 + 1.6 * random()),
        picked: 0.05 + 0.3 * random(),
        rings: 1 + 3 * random(),
        // small loudspeakers and microphones thin the lowest partial by up to 20 dB
        lowest: 10 ** -random(),
        noiseDb,
      };
      const found = hear(struck(string, { ...heard, random }));
      expect(found?.several, JSON.stringify(string)).toBe(false);
      expect(Math.abs(cents(found?.hz ?? NaN, hz)), JSON.stringify(string)).toBeLessThan(most);
    }
  });

  it('at other sample rates too', () => {
    const random = chance(5);
    for (const rate of [16_000, 44_100, 96_000])
      for (const hz of [61.7, 415.3, 880]) {
        const found = hear(struck({ hz }, { seconds: 0.3, rate, random }), rate);
        expect(Math.abs(cents(found?.hz ?? NaN, hz))).toBeLessThan(0.5);
      }
  });

  it('is not thrown by a string that is detuned while it rings', () => {
    // the pitch of the last part counts: after 0.5 s the turn of a key is over
    const random = chance(9);
    const before = struck({ hz: 320 }, { seconds: 0.5, rate: RATE, random });
    const after = struck({ hz: 329.63 }, { seconds: LISTEN_S, rate: RATE, random });
    const both = new Float32Array([...before, ...after]);
    expect(Math.abs(cents(hear(both)?.hz ?? NaN, 329.63))).toBeLessThan(1);
  });

  it('agrees with an independent detector on what repeats exactly', () => {
    const random = chance(3);
    const detector = PitchDetector.forFloat32Array(8192);
    for (const hz of [82.4, 220, 440]) {
      const sound = struck({ hz, stiffness: 0, rings: 20, noiseDb: 60 }, { ...heard, random });
      const [other] = detector.findPitch(sound.slice(-8192), RATE);
      expect(Math.abs(cents(hear(sound)?.hz ?? NaN, other))).toBeLessThan(2);
    }
  });
});

describe('what is no single string', () => {
  const random = chance(77);
  const how = { seconds: 0.3, rate: RATE, random };

  it('silence, hiss and a thump have no pitch', () => {
    expect(hear(new Float32Array(RATE * 0.3))).toBeUndefined();
    expect(hear(Float32Array.from({ length: 14_400 }, () => random() - 0.5))).toBeUndefined();
    expect(hear(struck({ hz: 200, amplitude: 0.0001 }, how))).toBeUndefined();
    expect(hear(Float32Array.from([0.1]))).toBeUndefined();
  });

  // strings 3, 4, 5, 8 of E9, and others a third, fourth, fifth and seventh apart, tempered and just
  it.each([
    ['a major third', 329.63, 415.3],
    ['a just major third', 330, 412.5],
    ['a minor third', 415.3, 493.88],
    ['a fourth', 246.94, 329.63],
    ['a fifth', 164.81, 246.94],
    ['a just fifth', 220, 330],
    ['a seventh', 164.81, 293.66],
    ['a tone', 146.83, 164.81],
  ])('%s is told as more than one note', (_, low, high) => {
    for (const louder of [0.7, 1, 1.4]) {
      const both = mix(
        struck({ hz: low }, how),
        struck({ hz: high, amplitude: 0.2 * louder }, how),
      );
      const found = hear(both);
      expect(found === undefined || found.several, `${louder}`).toBe(true);
    }
  });
});
