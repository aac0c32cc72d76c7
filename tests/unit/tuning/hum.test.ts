/**
 * The tuner's ear with mains hum (50 or 60 Hz and multiples, steady) and with octaves that ring along:
 * sounds made by the formula of a stiff string, to which plain sines are added.
 */
import { existsSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { detect } from '$lib/tuning/detect';
import { DEFAULT_HOLD } from '$lib/tuning/hold';
import { runs } from '../../battery';
import { randomFrom } from '../../random';
import { LONG, SEED } from '../../seed';
import { chance, struck } from './strings';

const RATE = 48_000;
const SECONDS = 0.3;
const cents = (hz: number, from: number): number => 1200 * Math.log2(hz / from);
const mix = (...all: Float32Array[]): Float32Array =>
  Float32Array.from(all[0] ?? [], (_, i) => all.reduce((sum, each) => sum + (each[i] ?? 0), 0));
const rms = (x: Float32Array): number =>
  Math.sqrt(x.reduce((sum, each) => sum + each * each, 0) / x.length);
const louder = (x: Float32Array, db: number): Float32Array =>
  x.map((each) => each * 10 ** (db / 20));

/** Hum whose multiples have these amplitudes, `db` against a level. */
function hum(
  mains: number,
  shape: readonly number[],
  { db, against, random }: { db: number; against: number; random: () => number },
): Float32Array {
  const out = new Float32Array(Math.round(SECONDS * RATE));
  shape.forEach((amplitude, k) => {
    const phase = 2 * Math.PI * random();
    for (let i = 0; i < out.length; i++)
      out[i] =
        (out[i] ?? 0) + amplitude * Math.sin((2 * Math.PI * mains * (k + 1) * i) / RATE + phase);
  });
  return louder(out, db + 20 * Math.log10(against / rms(out)));
}

/** The mains alone, as a transformer hums, and with the multiples of a buzzing rectifier. */
const SHAPES = [
  ['a pure hum', [1]],
  ['a buzz', [1, 0.5, 0.5, 0.3, 0.3, 0.2, 0.2, 0.1, 0.1]],
] as const;

/** How far off a string is, in cents, and how many seconds after it was struck it is heard. */
const MOMENTS = [-12, 0, 7].flatMap((off) => [0.1, 0.8].map((after) => ({ off, after })));

/** All of them, or one by the seed. */
function momentsFor(midi: number, mains: number): typeof MOMENTS {
  const at = Math.floor(randomFrom(SEED + 100 * mains + midi)() * MOMENTS.length);
  return LONG ? MOMENTS : MOMENTS.slice(at, at + 1);
}

/** Open strings of the built-in setups, low to high, in equal temperament (ISO 16). */
const STRINGS = [
  ['B1', 35],
  ['C2', 36],
  ['F2', 41],
  ['A2', 45],
  ['B2', 47],
  ['D3', 50],
  ['E3', 52],
  ['G♯3', 56],
  ['B3', 59],
  ['E4', 64],
  ['G♯4', 68],
] as const;

describe.each([50, 60] as const)('hum of %i Hz, 10 dB below the string', (mains) => {
  describe.each(SHAPES)('%s', (_, shape) => {
    // a third of the strings by the seed, and another third with the other shape
    const turn = SEED + mains / 10 + (shape.length > 1 ? 1 : 0);
    const some = STRINGS.filter((_string, at) => LONG || (at + turn) % 3 === 0);
    it.each(some)('is told, and leaves %s within what counts as in tune', (_name, midi) => {
      const random = chance(midi + mains);
      for (const { off, after } of momentsFor(midi, mains)) {
        const hz = 440 * 2 ** ((midi - 69 + off / 100) / 12);
        const string = struck({ hz, noiseDb: 35 }, { seconds: SECONDS, rate: RATE, random, after });
        const sound = mix(string, hum(mains, shape, { db: -10, against: rms(string), random }));
        const heard = detect(sound, RATE);
        const where = `${off} cents, ${after} s`;
        expect(heard?.several, where).toBe(false);
        expect(heard?.hum, where).toBe(mains);
        expect(heard?.alone, where).toBeUndefined();
        expect(Math.abs(cents(heard?.hz ?? NaN, hz)), where).toBeLessThan(DEFAULT_HOLD.withinCents);
      }
    });
  });

  // G1 (49.0 Hz) over 50 Hz, B1 (61.7) over 60, and what is tuned up to them through the mains
  const AWAY = LONG
    ? [-1.4, -1, -0.8, -0.5, -0.4, -0.3, -0.25, 0.25, 0.3, 0.4, 0.5, 0.8, 1, 1.4, 1.8]
    : [-0.5, -0.3, 0.5];
  it.each(SHAPES)('does not draw a string to it that lies within two hertz: %s', (_, shape) => {
    const random = chance(11 * mains);
    for (const away of AWAY)
      for (const octave of LONG ? [1, 2] : [1]) {
        const hz = octave * mains + away;
        const string = struck(
          { hz, noiseDb: 35 },
          { seconds: SECONDS, rate: RATE, random, after: 0.3 },
        );
        const sound = mix(string, hum(mains, shape, { db: -10, against: rms(string), random }));
        const heard = detect(sound, RATE);
        expect(Math.abs(cents(heard?.hz ?? NaN, hz)), `${hz} Hz`).toBeLessThan(1.5);
        const without = detect(string, RATE);
        expect(without?.hum, `${hz} Hz without hum`).toBeUndefined();
        expect(Math.abs(cents(without?.hz ?? NaN, hz))).toBeLessThan(0.5);
      }
  });

  it('is told with a string that lies on every line of a buzz, half a hertz and less away', () => {
    const random = chance(17 * mains);
    const [, buzz] = SHAPES[1];
    for (const away of LONG ? [-0.5, -0.4, -0.3, 0.3, 0.4, 0.5] : [-0.5, 0.3]) {
      const string = struck(
        { hz: mains + away, noiseDb: 35 },
        { seconds: SECONDS, rate: RATE, random, after: 0.3 },
      );
      const sound = mix(string, hum(mains, buzz, { db: -10, against: rms(string), random }));
      expect(detect(sound, RATE)?.hum, `${mains + away} Hz`).toBe(mains);
    }
  });

  it('is read right or called unsure, however near a string lies to it', () => {
    const random = chance(19 * mains);
    for (const [name, shape] of SHAPES)
      for (const away of LONG ? [-0.2, -0.15, -0.1, -0.05, 0.05, 0.1, 0.15, 0.2] : [-0.15, 0.2]) {
        const hz = mains + away;
        const string = struck(
          { hz, noiseDb: 35 },
          { seconds: SECONDS, rate: RATE, random, after: 0.3 },
        );
        const sound = mix(string, hum(mains, shape, { db: -10, against: rms(string), random }));
        const heard = detect(sound, RATE);
        const isRight = Math.abs(cents(heard?.hz ?? NaN, hz)) < 1.5;
        expect(isRight || heard?.masked === mains, `${hz} Hz, ${name}`).toBe(true);
      }
  });

  it('says so where it cannot be told from the string: a tenth of a hertz away', () => {
    const random = chance(13 * mains);
    for (const away of [-0.1, 0.1]) {
      const hz = mains + away;
      const string = struck(
        { hz, noiseDb: 35 },
        { seconds: SECONDS, rate: RATE, random, after: 0.3 },
      );
      const [, buzz] = SHAPES[1];
      const sound = mix(string, hum(mains, buzz, { db: -10, against: rms(string), random }));
      expect(detect(sound, RATE)?.masked, `${hz} Hz`).toBe(mains);
      // without hum too: the sound alone does not show which it is
      expect(detect(string, RATE)?.masked).toBe(mains);
    }
    expect(
      detect(struck({ hz: 82.4 }, { seconds: SECONDS, rate: RATE, random }), RATE)?.masked,
    ).toBeUndefined();
  });

  it.each(SHAPES)('alone is no string: %s', (_, shape) => {
    const random = chance(mains);
    for (let k = 0; k < runs(4, 8); k++) {
      const sound = mix(
        hum(mains, shape, { db: 0, against: 0.01, random }),
        Float32Array.from({ length: SECONDS * RATE }, () => 0.0005 * (random() - 0.5)),
      );
      const heard = detect(sound, RATE, k % 2 === 0 ? undefined : 61.735);
      expect(heard).toMatchObject({ hum: mains, alone: true });
    }
  });

  it('is not heard where there is none', () => {
    const random = chance(3 * mains);
    const count = runs(6, 40);
    for (let k = 0; k < count; k++) {
      const hz = 55 * 2 ** ((4 * k) / count);
      const heard = detect(
        struck({ hz, noiseDb: 30 }, { seconds: SECONDS, rate: RATE, random }),
        RATE,
      );
      expect(heard?.hum, `${hz} Hz`).toBeUndefined();
    }
  });

  it('does not hide a string that is tuned right through it', () => {
    const random = chance(5 * mains);
    for (const off of [-3, 0, 3]) {
      const hz = mains * 2 ** (off / 1200);
      const heard = detect(
        struck({ hz, noiseDb: 30 }, { seconds: SECONDS, rate: RATE, random }),
        RATE,
      );
      expect(heard?.alone).toBeUndefined();
      expect(Math.abs(cents(heard?.hz ?? NaN, hz))).toBeLessThan(1);
    }
  });
});

describe('an octave that rings along, 10 dB below', () => {
  const E3 = 164.814;
  const E4 = 329.628;
  const both = (main: number, other: number, seed: number): Float32Array => {
    const random = chance(seed);
    const how = { seconds: SECONDS, rate: RATE, random };
    const string = struck({ hz: main, lowest: 0.3 + 0.7 * random() }, how);
    const along = struck({ hz: other * 2 ** ((4 * random() - 2) / 1200) }, how);
    return mix(string, louder(along, -10));
  };
  const seeds = Array.from({ length: runs(4, 12) }, (_, k) => k + 1);

  it.each([
    ['E4 over E3', E4, E3],
    ['E3 under E4', E3, E4],
  ])('the wanted note is read: %s', (_, wanted, other) => {
    for (const seed of seeds) {
      const heard = detect(both(wanted, other, seed), RATE, wanted);
      expect(Math.abs(cents(heard?.hz ?? NaN, wanted)), `${seed}`).toBeLessThan(
        DEFAULT_HOLD.withinCents,
      );
    }
  });

  it('but a string an octave off is not taken for the wanted one', () => {
    const random = chance(8);
    for (let k = 0; k < runs(4, 12); k++)
      for (const [struckHz, wanted] of [
        [E3, E4],
        [E4, E3],
        [2 * E4, E3],
      ] as const) {
        const sound = struck(
          { hz: struckHz, picked: 0.08 + 0.25 * random(), lowest: 10 ** (-0.8 * random()) },
          { seconds: SECONDS, rate: RATE, random },
        );
        const heard = detect(sound, RATE, wanted);
        expect(Math.abs(cents(heard?.hz ?? NaN, struckHz)), `${struckHz}`).toBeLessThan(2);
      }
  });
});

describe('recorded guitars', () => {
  const FOLDER = '../shared/checks/sounds';
  const there = existsSync(FOLDER);
  interface Sound {
    readonly file: string;
    readonly strings: readonly { readonly sounds: boolean; readonly hz?: number }[];
  }

  it.skipIf(!there)(
    `are several notes with hum as without, and no hum is heard in them (${FOLDER}${there ? '' : ' is not there'})`,
    () => {
      const { sounds, sampleRate } = JSON.parse(readFileSync(`${FOLDER}/sounds.json`, 'utf8')) as {
        sounds: readonly Sound[];
        sampleRate: number;
      };
      let clear = 0;
      for (const { file, strings } of sounds) {
        const bytes = readFileSync(`${FOLDER}/${file}`);
        const data = bytes.indexOf('data') + 8;
        const at = Math.round(0.3 * sampleRate);
        const length = Math.round(SECONDS * sampleRate);
        const samples = Float32Array.from(
          { length },
          (_, i) => bytes.readInt16LE(data + 2 * (at + i)) / 32768,
        );
        const heard = detect(samples, sampleRate);
        const hz = strings.flatMap((string) => (string.sounds ? (string.hz ?? []) : []));
        if (heard === undefined || heard.several) continue;
        clear++;
        expect(heard.hum, file).toBeUndefined();
        // what is told as one note is one of those that sound, or one in whose octave the others lie
        expect(
          Math.min(...hz.map((each) => Math.abs(cents(heard.hz, each)))),
          `${file}: ${heard.hz}`,
        ).toBeLessThan(10);
      }
      expect(clear).toBeLessThan(sounds.length / 4);
    },
  );
});
