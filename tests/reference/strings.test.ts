/**
 * String physics against what others have printed: worked examples of textbooks and teachers, the
 * strength table of music wire, and rows worked out apart from this program. Where a published answer
 * is wrong, that is said and physics is held to.
 */
import { existsSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { hzOf, parsePitch } from '$lib/theory/pitch';
import { loadOf } from '$lib/strings/loads';
import { centsPerKelvin, stretchMm, tensionFactor, tensionN } from '$lib/strings/tension';
import { modulusMpa, strengthMpa, wireOf, type Wire } from '$lib/strings/wire';
import { A228_LEAST_KSI, MM_PER_INCH, MPA_PER_KSI } from '$lib/strings/wireData';

/** A pound-force is 0.45359237 kg under 9.80665 m/s², which is 4.4482216152605 N. */
const LBF_PER_N = 1 / 4.4482216152605;

/** Tension goes with the square of the pitch, so what one hertz takes tells the pitch under any tension. */
const hzUnder = (tension: number, massPerM: number, lengthMm: number): number =>
  Math.sqrt(tension / tensionN(massPerM, lengthMm, 1));
/** Speed of a wave on a string under tension; the pitch of half a metre is that number in hertz. */
const speed = (tension: number, massPerM: number): number => hzUnder(tension, massPerM, 500);
const plain = (gauge: number): Wire => {
  const made = wireOf({ open: pitch('E4'), gauge });
  if ('why' in made) throw new Error(made.why);
  return made.wire;
};
function pitch(text: string) {
  const read = parsePitch(text);
  if (read === undefined) throw new Error(text);
  return read;
}

describe('worked examples of string tension', () => {
  it('0.125 g on 0.33 m at 640 Hz: 68 N (lcse.umn.edu, string exercise)', () => {
    expect(tensionN(1.25e-4 / 0.33, 330, 640)).toBeCloseTo(67.584, 3);
  });

  it('4.0 g on 1.21 m, third mode at 180 Hz: 69.7 N, 145.2 m/s (PHYS408 solutions)', () => {
    const tension = tensionN(0.004 / 1.21, 1210, 180 / 3);
    expect(tension).toBeCloseTo(69.7, 1);
    expect(speed(tension, 0.004 / 1.21)).toBeCloseTo(145.2, 1);
  });

  it('0.309 g/m under 56.40 N: 427.23 m/s; the low string needs about 1055 N for that (OpenStax, chapter 16)', () => {
    const highE = speed(56.4, 3.09e-4);
    expect(highE).toBeCloseTo(427.23, 2);
    // the same speed on 5.78 g/m
    expect(tensionN(5.78e-3, 500, highE)).toBeCloseTo(1054.99, 2);
  });

  describe('25.5 inches under 78.0 N (Young & Freedman 15.74)', () => {
    const lengthMm = 25.5 * MM_PER_INCH;
    const massFor = (hz: number): number => 78 / tensionN(1, lengthMm, hz);

    it.each([
      // printed 0.0684, which is cut off and not rounded
      [82.4, 0.06846],
      [196, 0.0121],
      [329.6, 0.00428],
    ])('%f Hz takes a string of %f g/cm', (hz, gramsPerCm) => {
      expect(massFor(hz) * 10).toBeCloseTo(gramsPerCm, 5);
    });

    it('E2 tuned up to G3 takes 441 N; the answer printed on vaia (178.7 N, 1.24e-4 g/cm) is wrong', () => {
      const tension = tensionN(massFor(82.4), lengthMm, 196);
      // the square of 196/82.4 times 78 N, by hand
      expect(tension).toBeCloseTo(441.32, 2);
      expect(Math.abs(tension - 178.7)).toBeGreaterThan(200);
    });
  });

  it('a cord of 1.5 m, 1.2 g/m, under 12 N: 33 Hz; third mode at 500 Hz: 300 N (numerade)', () => {
    expect(hzUnder(12, 1.2e-3, 1500)).toBeCloseTo(33.333, 3);
    expect(tensionN(1.2e-3, 1500, 500 / 3)).toBeCloseTo(300, 6);
  });

  it('540 Hz with 21 % more tension: 594 Hz; on two thirds of the length: 810 Hz (chegg q2468069)', () => {
    const tension = tensionN(1e-3, 600, 540);
    expect(hzUnder(1.21 * tension, 1e-3, 600)).toBeCloseTo(594, 6);
    expect(hzUnder(tension, 1e-3, 400)).toBeCloseTo(810, 6);
  });

  it('100 N gives 108 Hz, so 110 Hz takes 103.738 N; jiskha 1359923469 answers 101.85 N, in a straight line, and is wrong', () => {
    const massPerM = 100 / tensionN(1, 600, 108);
    const tension = tensionN(massPerM, 600, 110);
    expect(tension).toBeCloseTo(103.738, 3);
    expect(tension - 101.85).toBeGreaterThan(1.8);
  });
});

describe('strength of music wire', () => {
  // rows of ASTM A228, and between them: .017 and .019 are not tabulated
  it.each([
    [0.007, 407],
    [0.011, 382],
    [0.013, 373],
    [0.02, 350],
    [0.036, 321],
    [0.08, 282],
    [0.017, 359],
    [0.019, 353],
  ])('%f inch bears at least %f ksi', (inches, ksi) => {
    expect((strengthMpa(inches) ?? NaN) / MPA_PER_KSI).toBeCloseTo(ksi, 9);
  });

  // break loads and MPa as the table's columns work out: ksi × πd²/4
  it.each([
    [0.011, 2634, 161.5],
    [0.014, 2544, 252.7],
    [0.02, 2413, 489.1],
    [0.04, 2172, 1760.8],
  ])('%f inch is %f MPa and breaks at %f N', (inches, mpa, newtons) => {
    const { strengthMpa: strength, areaMm2 } = plain(inches);
    expect(strength).toBeCloseTo(mpa, -0.5);
    expect(strength * areaMm2).toBeCloseTo(newtons, 1);
  });

  it('is not told outside the table', () => {
    expect([strengthMpa(0.0039), strengthMpa(0.0801)]).toEqual([undefined, undefined]);
  });

  it('lies within 2.1 % of the fit A/d^m of Shigley, 201 ksi and 0.145, up to .040 inch', () => {
    for (const [inches, ksi] of A228_LEAST_KSI.filter(([inches]) => inches <= 0.04))
      expect(201 / inches ** 0.145 / ksi).toBeCloseTo(1.0155, 1.9);
  });

  it('the modulus goes by diameter (Shigley, table 10–5)', () => {
    expect([0.011, 0.032, 0.036, 0.07].map(modulusMpa)).toEqual([203400, 203400, 200000, 196500]);
  });

  const CHECKS = '../shared/checks/check-values.json';
  const there = existsSync(CHECKS);
  it.skipIf(!there)(`is the table of ${CHECKS}${there ? '' : ' (not there)'}`, () => {
    const { a228_min_max_ksi: table } = JSON.parse(readFileSync(CHECKS, 'utf8')) as {
      a228_min_max_ksi: { rows: [number, number, number][] };
    };
    expect(A228_LEAST_KSI).toEqual(table.rows.map(([inches, least]) => [inches, least]));
  });
});

/** Worked out apart from this program: density 7850, exact units, g exact. */
const ROWS = [
  // gauge, scale in inches, note, newtons, pounds-force, ksi, percent of the least strength
  [0.01, 25.5, 'E4', 72.524, 16.304, 207.59, 53.64],
  [0.011, 24.25, 'G#4', 125.979, 28.3211, 298.01, 78.01],
  [0.012, 24.25, 'G#4', 149.925, 33.7045, 298.01, 79.05],
  [0.014, 24.25, 'E4', 128.553, 28.8998, 187.74, 50.88],
  [0.014, 24, 'E4', 125.916, 28.307, 183.89, 49.83],
  [0.02, 24.25, 'G#3', 104.115, 23.4059, 74.5, 21.29],
  [0.026, 24.25, 'E3', 110.844, 24.9187, 46.93, 13.93],
  [0.036, 24.25, 'B2', 119.265, 26.8118, 26.34, 8.21],
] as const;

describe('plain steel strings', () => {
  const at = (gauge: number, inches: number, note: string, up = 0) => {
    const instrument = { scaleLengthMm: inches * MM_PER_INCH, referenceHz: 440 };
    const found = loadOf(instrument, { open: pitch(note), gauge }, { up, down: 0 });
    if ('why' in found) throw new Error(found.why);
    return found.load;
  };

  it.each(ROWS)(
    '%f on %f inches at %s: %f N, %f lbf, %f ksi, %f percent',
    (gauge, inches, note, newtons, pounds, ksi, percent) => {
      const load = at(gauge, inches, note);
      expect(load.tensionN).toBeCloseTo(newtons, 2);
      expect(load.tensionN * LBF_PER_N).toBeCloseTo(pounds, 3);
      expect(load.stressMpa / MPA_PER_KSI).toBeCloseTo(ksi, 2);
      expect(100 * load.shareOpen).toBeCloseTo(percent, 2);
      expect(load.estimate).toBe(false);
    },
  );

  it.each([
    [1, 87.6],
    [2, 98.3],
  ])('.011 at G#4 on 24.25 inches raised by %i: %f percent', (up, percent) => {
    expect(100 * at(0.011, 24.25, 'G#4', up).shareTop).toBeCloseTo(percent, 1);
  });

  it.each([
    [22, 518.3],
    [24, 475.1],
    [24.25, 470.2],
    [25.5, 447.1],
    [27, 422.3],
  ])('.011 on %f inches breaks at %f Hz', (inches, hz) => {
    const { headroomSemitones, headroomCents } = at(0.011, inches, 'E4');
    expect(hzOf(64 + headroomSemitones)).toBeCloseTo(hz, 1);
    expect(headroomCents).toBeCloseTo(100 * headroomSemitones, 9);
  });

  it.each([
    [0.011, 'G#4', 1, 0.762],
    [0.011, 'G#4', 2, 1.617],
    [0.014, 'E4', 1, 0.48],
    [0.014, 'E4', 2, 1.019],
    [0.014, 'E4', -1, -0.428],
    [0.017, 'B3', 2, 0.572],
  ])('%f at %s pulled by %i: %f mm over 24.25 inches', (gauge, note, semitones, mm) => {
    const { wire, tensionN } = at(gauge, 24.25, note);
    const change = tensionN * (tensionFactor(semitones) - 1);
    expect(stretchMm(wire, 24.25 * MM_PER_INCH, change)).toBeCloseTo(mm, 3);
  });

  it('E4 on .014: 220.8 cents a millimetre, −1.632 cents a kelvin', () => {
    const { wire, tensionN } = at(0.014, 24.25, 'E4');
    // a hundredth of a cent either way of the open string: the slope there
    const change = tensionN * (tensionFactor(1e-4) - tensionFactor(-1e-4));
    expect(0.02 / stretchMm(wire, 24.25 * MM_PER_INCH, change)).toBeCloseTo(220.8, 1);
    expect(centsPerKelvin(wire, tensionN)).toBeCloseTo(-1.632, 3);
  });
});
