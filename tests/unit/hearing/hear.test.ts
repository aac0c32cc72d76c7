/** Grips of strings made by the formula of a stiff string, heard. */
import { describe, expect, it } from 'vitest';
import { hearGrip } from '$lib/hearing/hear';
import { strokeAt } from '$lib/hearing/stroke';
import { randomFrom } from '../../random';

const RATE = 48_000;
const hzOf = (midi: number): number => 440 * 2 ** ((midi - 69) / 12);

/** A fading stiff string, f(n) = n f √(1 + B n²) (Fletcher 1964), with so many partials. */
function string(midi: number, seconds: number, stiffness = 5e-5, partials = 14): Float32Array {
  const out = new Float32Array(Math.round(seconds * RATE));
  for (let n = 1; n <= partials; n++) {
    const turn = (2 * Math.PI * n * hzOf(midi) * Math.sqrt(1 + stiffness * n * n)) / RATE;
    for (let i = 0; i < out.length; i++)
      out[i] =
        (out[i] as number) +
        (0.1 / n) * Math.exp((-i / RATE) * (1 + 0.3 * n)) * Math.sin(turn * i + n);
  }
  return out;
}
/** A string that glides by so many cents a second from its pitch, each partial by what it glides besides. */
function gliding(
  midi: number,
  seconds: number,
  glide: number,
  besides: (n: number) => number = () => 0,
): Float32Array {
  const out = new Float32Array(Math.round(seconds * RATE));
  for (let n = 1; n <= 10; n++) {
    const byCent = Math.LN2 / 1200;
    const slope = (glide + besides(n)) * byCent;
    for (let i = 0; i < out.length; i++) {
      const t = i / RATE;
      // the integral of f · (1 + slope t), which bends by so little that the square is not felt
      const turns = n * hzOf(midi) * (t + (slope * t * t) / 2);
      out[i] = (out[i] as number) + (0.1 / n) * Math.exp(-2 * t) * Math.sin(2 * Math.PI * turns);
    }
  }
  return out;
}
const mixed = (...all: Float32Array[]): Float32Array =>
  Float32Array.from(all[0] ?? [], (_, i) => all.reduce((sum, each) => sum + (each[i] ?? 0), 0));
const noise = (seconds: number, size: number): Float32Array => {
  const random = randomFrom(5);
  return Float32Array.from(
    { length: Math.round(seconds * RATE) },
    () => size * (random() + random() + random() - 1.5),
  );
};
const strings = (off: Readonly<Record<number, number>>, seconds: number): Float32Array =>
  mixed(
    ...Object.entries(off).map(([midi, cents]) => string(Number(midi) + cents / 100, seconds)),
    noise(seconds, 0.002),
  );

describe('a grip', () => {
  it.each([
    [0.25, 0.6],
    [1.2, 0.2],
  ])('is told from %f s to %f cents, string by string', (seconds, most) => {
    const heard = hearGrip(
      strings({ 68: 11, 64: 7, 59: -3 }, seconds),
      RATE,
      [68, 64, 59].map(hzOf),
    );
    [11, 7, -3].forEach((cents, at) => {
      expect(heard.strings[at]).toMatchObject({ sounds: true, certain: true });
      expect(Math.abs((heard.strings[at]?.cents ?? NaN) - cents)).toBeLessThan(most);
    });
    expect(heard.extra).toEqual([]);
  });

  it('is told where it has come to, string by string, as long as little has been heard', () => {
    // one falls by four cents in this quarter of a second, as after a hard stroke; one is still being pulled up
    const [falls, rises] = [-16, 12];
    const heard = hearGrip(
      mixed(gliding(64, 0.25, falls), gliding(57, 0.25, rises), noise(0.25, 0.001)),
      RATE,
      [64, 57].map(hzOf),
    );
    [falls, rises].forEach((glide, at) => {
      // its mean is that of the middle; where it stands is less than a cent short of the end
      const { cents = NaN } = heard.strings[at] ?? {};
      expect(Math.abs(cents - 0.25 * glide)).toBeLessThan(1);
    });
  });

  it('is not told by a partial that moves otherwise than the others', () => {
    // a body that swings along below the string draws its first partial down by 13 cents, and lets it go
    const drawn = gliding(55, 0.25, 0, (n) => (n === 1 ? -80 : 0));
    const [told] = hearGrip(mixed(drawn, noise(0.25, 0.0005)), RATE, [hzOf(55)]).strings;
    expect(Math.abs(told?.cents ?? NaN)).toBeLessThan(2.5);
  });

  it('lacks a string that was not struck', () => {
    const heard = hearGrip(strings({ 68: 4, 59: 6 }, 0.5), RATE, [68, 64, 59].map(hzOf));
    expect(heard.strings.map(({ sounds }) => sounds)).toEqual([true, false, true]);
    expect(heard.strings[1]).toEqual({ sounds: false, certain: true });
  });

  it('has a foreign note told by its name', () => {
    const heard = hearGrip(strings({ 68: 4, 66: 6, 59: 6 }, 0.5), RATE, [68, 59].map(hzOf));
    expect(heard.extra.map(({ midi }) => midi)).toEqual([66]);
    expect(heard.extra[0]?.cents).toBeCloseTo(6, 0);
  });

  it('is not certain of the upper of two strings an octave apart, and is of the lower', () => {
    const heard = hearGrip(strings({ 52: 0, 64: 0 }, 0.5), RATE, [52, 64].map(hzOf));
    expect(heard.strings.map(({ certain }) => certain)).toEqual([true, false]);
    expect(heard.strings[0]?.sounds).toBe(true);
  });

  it('lacks a string where one an octave above is struck in its place, which is foreign', () => {
    const { strings: told, extra } = hearGrip(
      strings({ 67: 2, 62: 2, 71: 2 }, 0.5),
      RATE,
      [67, 62, 59].map(hzOf),
    );
    expect(told.map(({ sounds }) => sounds)).toEqual([true, true, false]);
    expect(extra.map(({ midi }) => midi)).toEqual([71]);
  });

  it('does not lack a soft string that has no high partials, where its low ones are another’s', () => {
    // nylon: partials 1 to 4 of the upper lie on 2 to 8 of the lower, which is stiff: 6 to 8 would lie beside its own
    const both = mixed(string(54, 0.5, 1.5e-4), string(66, 0.5, 5e-5, 4), noise(0.5, 0.0005));
    const [upper, lower] = hearGrip(both, RATE, [66, 54].map(hzOf)).strings;
    expect(upper).toMatchObject({ sounds: true, certain: false });
    expect(lower).toMatchObject({ sounds: true, certain: true });
  });

  it('is not heard in silence, in noise alone, or in too little sound', () => {
    for (const samples of [
      new Float32Array(RATE),
      noise(0.5, 0.1),
      strings({ 68: 0, 64: 0 }, 0.05),
    ]) {
      const { strings: told, extra } = hearGrip(samples, RATE, [68, 64].map(hzOf));
      expect(told.map(({ sounds }) => sounds)).toEqual([false, false]);
      expect(extra).toEqual([]);
    }
  });
});

it('a stroke is found behind what is silent before it', () => {
  const sound = new Float32Array(RATE);
  sound.set(string(64, 0.5), RATE / 4);
  expect(strokeAt(sound, RATE)).toBeGreaterThan(0.24 * RATE);
  expect(strokeAt(sound, RATE)).toBeLessThanOrEqual(0.26 * RATE);
  expect(strokeAt(new Float32Array(RATE), RATE)).toBe(0);
});
