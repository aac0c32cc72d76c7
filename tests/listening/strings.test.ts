/**
 * What is heard, measured on sound that Chromium rendered offline. Wanted pitches are those of equal
 * temperament, f = A4 · 2^((m − 69) / 12) (ISO 16:1975 for A4 = 440 Hz), said here once more.
 */
import { describe, expect, it } from 'vitest';
import {
  amplitudeOf,
  centsBetween,
  dbOf,
  hzAt,
  peakOf,
  render,
  renderGrip,
  rmsOf,
  RATE,
  truePeakOf,
} from './render';

const wanted = (midi: number, a4 = 440): number => a4 * 2 ** ((midi - 69) / 12);

describe('the strings', () => {
  // B1 (35) to E6 (88): the lowest string of a universal twelve to the highest frets of an E9
  it.each([35, 38, 41, 44, 47, 50, 53, 56, 59, 62, 65, 68, 71, 74, 77, 80, 83, 86, 88])(
    'sound MIDI %i in tune within a cent',
    async (midi) => {
      const sound = await renderGrip([{ string: 1, midi }], 'together', 0.9);
      const cents = Math.abs(centsBetween(hzAt(sound, 0.2), wanted(midi)));
      expect(cents).toBeLessThan(1);
    },
  );

  it.each([415, 432, 442])('follow a reference of %i Hz', async (a4) => {
    const sound = await renderGrip([{ string: 1, midi: 64 }], 'together', 0.9, a4);
    expect(Math.abs(centsBetween(hzAt(sound, 0.2), wanted(64, a4)))).toBeLessThan(1);
  });

  it('sound every note of a grip', async () => {
    // C at the eighth fret of an E9, strings 3, 4 and 5: E5, C5, G4
    const grip = [
      { string: 3, midi: 76 },
      { string: 4, midi: 72 },
      { string: 5, midi: 67 },
    ];
    const sound = await renderGrip(grip, 'together', 1);
    const from = Math.round(0.2 * RATE);
    const silence = amplitudeOf(sound, wanted(70), from, 16_384);
    for (const { midi } of grip)
      expect(amplitudeOf(sound, wanted(midi), from, 16_384), `MIDI ${midi}`).toBeGreaterThan(
        20 * silence,
      );
  });

  it('begin low and follow one another when played one by one', async () => {
    const grip = [
      { string: 3, midi: 76 },
      { string: 5, midi: 67 },
    ];
    const sound = await renderGrip(grip, 'one by one', 1.4);
    expect(Math.abs(centsBetween(hzAt(sound, 0.2), wanted(67)))).toBeLessThan(1);
    const before = amplitudeOf(sound, wanted(76), Math.round(0.1 * RATE), 8192);
    const after = amplitudeOf(sound, wanted(76), Math.round(0.6 * RATE), 8192);
    expect(after).toBeGreaterThan(10 * before);
  });

  it('stay below −1 dBFS and well above silence for a hundred random chords', async () => {
    // a linear congruential generator (Numerical Recipes), so that every run hears the same chords
    let seed = 20;
    const random = (below: number): number => {
      seed = (1_664_525 * seed + 1_013_904_223) % 2 ** 32;
      return Math.floor((seed / 2 ** 32) * below);
    };
    let loudest = 0;
    let softest = Infinity;
    for (let chord = 0; chord < 100; chord++) {
      const grip = Array.from({ length: 3 + random(4) }, (_, place) => ({
        string: place + 1,
        midi: 35 + random(54),
      }));
      const sound = await renderGrip(grip, 'together', 0.5);
      loudest = Math.max(loudest, truePeakOf(sound));
      softest = Math.min(softest, rmsOf(sound));
    }
    console.log(
      `loudest peak ${dbOf(loudest).toFixed(1)} dBFS, softest chord ${dbOf(softest).toFixed(1)} dBFS RMS`,
    );
    expect(dbOf(loudest)).toBeLessThan(-1);
    expect(dbOf(softest)).toBeGreaterThan(-40);
  });

  it('stay below −1 dBFS even where six strings sound one pitch in step', async () => {
    for (const midi of [40, 52, 64, 76, 88]) {
      const grip = Array.from({ length: 6 }, (_, place) => ({ string: place + 1, midi }));
      const sound = await renderGrip(grip, 'together', 0.5);
      expect(dbOf(truePeakOf(sound)), `MIDI ${String(midi)}`).toBeLessThan(-1);
    }
  });

  it('begin in order and 45 ms apart when rolled', async () => {
    const grip = [76, 72, 67].map((midi, place) => ({ string: place + 3, midi }));
    const sound = await renderGrip(grip, 'rolled', 0.5);
    // windows of 20 ms; a note has begun where its fundamental is first half of its strongest
    const size = 882;
    const onsets = [67, 72, 76].map((midi) => {
      const levels = Array.from({ length: 60 }, (_, step) =>
        amplitudeOf(sound, wanted(midi), Math.round(step * 0.005 * RATE), size),
      );
      return levels.findIndex((level) => level > Math.max(...levels) / 2) * 0.005;
    });
    const [low = 0, middle = 0, high = 0] = onsets;
    expect(middle - low).toBeGreaterThan(0.02);
    expect(high - middle).toBeGreaterThan(0.02);
    expect(high - low).toBeCloseTo(0.09, 1);
  });

  it('ring on for three seconds and mellow', async () => {
    const sound = await renderGrip([{ string: 4, midi: 64 }], 'together', 3.2);
    const level = (seconds: number, partial = 1): number =>
      amplitudeOf(sound, partial * wanted(64), Math.round(seconds * RATE), 4096);
    expect(dbOf(level(2.5) / level(0.1))).toBeGreaterThan(-40);
    expect(dbOf(level(2.5) / level(0.1))).toBeLessThan(-15);
    // the eighth harmonic falls faster than the first
    expect(level(1, 8) / level(1)).toBeLessThan((0.9 * level(0.06, 8)) / level(0.06));
  });

  it('never sound where they are damped before their turn', async () => {
    const sound = await render(1.4, (strings) => {
      strings.strike([{ string: 1, midi: 60, at: 0.6, duration: 3 }], 0.05, 440);
      strings.damp(0.3);
    });
    expect(peakOf(sound)).toBeLessThan(1e-5);
  });

  it('fall silent within a tenth of a second when they are damped', async () => {
    const sound = await render(1, (strings) => {
      strings.strike([{ string: 1, midi: 60, at: 0, duration: 3 }], 0.05, 440);
      strings.damp(0.5);
    });
    const ringing = rmsOf(sound.slice(Math.round(0.4 * RATE), Math.round(0.5 * RATE)));
    const damped = rmsOf(sound.slice(Math.round(0.6 * RATE), Math.round(0.7 * RATE)));
    expect(dbOf(ringing)).toBeGreaterThan(-50);
    expect(dbOf(damped)).toBeLessThan(-70);
  });
});
