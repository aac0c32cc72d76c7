/** Measures sound as a listener would judge it. None of it comes from the program. */
import { PitchDetector } from 'pitchy';

/** Equal temperament, f = A4 · 2^((m − 69) / 12) (ISO 16:1975 for A4 = 440 Hz), said here once more. */
export const wanted = (midi: number, a4 = 440): number => a4 * 2 ** ((midi - 69) / 12);

export const centsBetween = (a: number, b: number): number => 1200 * Math.log2(a / b);

/** The pitch in hertz of a window that begins at a time, by McLeod's method (pitchy). */
export function hzAt(sound: Float32Array, rate: number, seconds: number, size = 8192): number {
  const from = Math.round(seconds * rate);
  const [hz, clarity] = PitchDetector.forFloat32Array(size).findPitch(
    sound.slice(from, from + size),
    rate,
  );
  if (clarity < 0.9) throw new Error(`no clear pitch (clarity ${clarity.toFixed(2)})`);
  return hz;
}

/** Amplitude of one frequency in a window (Goertzel's algorithm, Hann window). */
export function amplitudeOf(
  sound: Float32Array,
  rate: number,
  hz: number,
  seconds: number,
  size: number,
): number {
  const from = Math.round(seconds * rate);
  let real = 0;
  let imaginary = 0;
  for (let i = 0; i < size; i++) {
    const window = 0.5 - 0.5 * Math.cos((2 * Math.PI * i) / size);
    const phase = (2 * Math.PI * hz * i) / rate;
    const sample = (sound[from + i] ?? 0) * window;
    real += sample * Math.cos(phase);
    imaginary += sample * Math.sin(phase);
  }
  return (4 * Math.hypot(real, imaginary)) / size;
}

/** The middle of the harmonics' energy, counted in harmonics: 1 is a sine. */
export function brightness(sound: Float32Array, rate: number, hz: number, seconds: number): number {
  let weighed = 0;
  let energy = 0;
  for (let harmonic = 1; harmonic * hz < 10_000 && harmonic <= 40; harmonic++) {
    const each = amplitudeOf(sound, rate, harmonic * hz, seconds, 8192) ** 2;
    weighed += harmonic * each;
    energy += each;
  }
  return weighed / energy;
}

const part = (sound: Float32Array, rate: number, from: number, to: number): Float32Array =>
  sound.subarray(Math.round(from * rate), Math.round(to * rate));

export function peakOf(sound: Float32Array): number {
  let most = 0;
  for (const sample of sound) most = Math.max(most, Math.abs(sample));
  return most;
}

/** Root of the mean square between two times. */
export function rmsOf(sound: Float32Array, rate: number, from: number, to: number): number {
  const heard = part(sound, rate, from, to);
  return Math.sqrt(heard.reduce((sum, sample) => sum + sample * sample, 0) / heard.length);
}

/**
 * The sharpest corner between two times: the greatest second difference. A click is one sample that
 * stands out, so it shows here long before it shows in the level.
 */
export function cornerOf(sound: Float32Array, rate: number, from: number, to: number): number {
  const heard = part(sound, rate, from, to);
  let most = 0;
  for (let i = 2; i < heard.length; i++)
    most = Math.max(
      most,
      Math.abs((heard[i] ?? 0) - 2 * (heard[i - 1] ?? 0) + (heard[i - 2] ?? 0)),
    );
  return most;
}

/**
 * The peak between the samples too: four times oversampled with a windowed sinc of 24 samples, in
 * the manner of ITU-R BS.1770-4, annex 2. Only about the loudest samples, where it matters.
 */
export function truePeakOf(sound: Float32Array): number {
  const peak = peakOf(sound);
  let most = peak;
  for (let i = 12; i < sound.length - 12; i++) {
    if (Math.abs(sound[i] ?? 0) < 0.8 * peak) continue;
    for (const between of [-0.75, -0.5, -0.25, 0.25, 0.5, 0.75]) {
      let sum = 0;
      for (let k = -12; k <= 12; k++) {
        const x = between - k;
        const window = Math.cos((Math.PI * x) / 26) ** 2;
        sum += ((sound[i + k] ?? 0) * window * Math.sin(Math.PI * x)) / (Math.PI * x);
      }
      most = Math.max(most, Math.abs(sum));
    }
  }
  return most;
}

export const dbOf = (amplitude: number): number => 20 * Math.log10(amplitude);

/** How many times a second two partials near a frequency beat: the strongest rhythm of their level. */
export function beatsNear(
  sound: Float32Array,
  rate: number,
  hz: number,
  from: number,
  to: number,
): { readonly perSecond: number; readonly depth: number } {
  const hop = 0.01;
  const levels: number[] = [];
  for (let at = from; at < to; at += hop)
    levels.push(Math.log(amplitudeOf(sound, rate, hz, at, 4096) + 1e-9));
  // the fall of the strings is a straight line in the logarithm; what is left over is the beating
  const n = levels.length;
  const meanX = (n - 1) / 2;
  const meanY = levels.reduce((sum, level) => sum + level, 0) / n;
  const slope =
    levels.reduce((sum, level, x) => sum + (x - meanX) * (level - meanY), 0) /
    levels.reduce((sum, _, x) => sum + (x - meanX) ** 2, 0);
  const left = levels.map((level, x) => level - meanY - slope * (x - meanX));
  let best = { perSecond: 0, depth: 0 };
  for (let beats = 0.3; beats < 15; beats += 0.01) {
    let real = 0;
    let imaginary = 0;
    left.forEach((level, x) => {
      const window = 0.5 - 0.5 * Math.cos((2 * Math.PI * x) / n);
      const phase = 2 * Math.PI * beats * x * hop;
      real += level * window * Math.cos(phase);
      imaginary += level * window * Math.sin(phase);
    });
    const depth = (4 * Math.hypot(real, imaginary)) / n;
    if (depth > best.depth) best = { perSecond: beats, depth };
  }
  return best;
}

/** Chance that is the same in every run (a linear congruential generator, Numerical Recipes). */
export function chance(seed: number): (below: number) => number {
  let state = seed;
  return (below) => {
    state = (1_664_525 * state + 1_013_904_223) % 2 ** 32;
    return Math.floor((state / 2 ** 32) * below);
  };
}
