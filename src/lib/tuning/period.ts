/**
 * The period of a sound, to within a few cents, whatever its partials: the first strong peak of the
 * normalised square difference function (McLeod and Wyvill, "A smarter way to find pitch", ICMC 2005).
 */

/** Lowest and highest pitch that is looked for, in hertz. */
const PITCH_RANGE: readonly [number, number] = [27, 1150];
/** Seconds of sound that are looked at: four periods of the lowest pitch. */
const WINDOW_S = 0.14;
/** Samples a second that are enough for a first look. */
const COARSE_RATE = 12_000;
/** A peak this near to the highest is the period, and the later ones its multiples (the paper's k). */
const NEAR_HIGHEST = 0.9;

export interface Period {
  readonly hz: number;
  /** Height of the peak: 1 for a sound that repeats exactly, near 0 for noise. */
  readonly clarity: number;
}

/** The last part of a sound at a lower rate, each sample the mean of `step`. */
function coarse(samples: Float32Array, sampleRate: number): { x: Float32Array; rate: number } {
  const step = Math.max(1, Math.floor(sampleRate / COARSE_RATE));
  const rate = sampleRate / step;
  const length = Math.min(Math.floor(samples.length / step), Math.round(WINDOW_S * rate));
  const from = samples.length - length * step;
  const x = new Float32Array(length);
  let mean = 0;
  for (let i = 0; i < length; i++) {
    let sum = 0;
    for (let j = 0; j < step; j++) sum += samples[from + i * step + j] as number;
    mean += x[i] = sum / step;
  }
  mean /= length;
  for (let i = 0; i < length; i++) x[i] = (x[i] as number) - mean;
  return { x, rate };
}

/** n(τ) = 2 Σ x(j) x(j+τ) / Σ (x(j)² + x(j+τ)²), for τ from 0 to `lags`. */
function squareDifference(x: Float32Array, lags: number): Float32Array {
  const n = new Float32Array(lags + 1);
  let energy = 0;
  for (const each of x) energy += 2 * each * each;
  for (let lag = 0; lag <= lags; lag++) {
    let sum = 0;
    for (let j = 0; j + lag < x.length; j++) sum += (x[j] as number) * (x[j + lag] as number);
    n[lag] = energy > 0 ? (2 * sum) / energy : 0;
    energy -= (x[lag] as number) ** 2 + (x[x.length - 1 - lag] as number) ** 2;
  }
  return n;
}

/** The highest lag of every stretch above nought, after the first fall below it. */
function keyPeaks(n: Float32Array): number[] {
  const peaks: number[] = [];
  let best = 0;
  let fallen = false;
  for (let lag = 1; lag < n.length - 1; lag++) {
    const here = n[lag] as number;
    if (here <= 0) {
      fallen = true;
      if (best > 0) peaks.push(best);
      best = 0;
    } else if (
      fallen &&
      here >= (n[lag - 1] as number) &&
      here >= (n[lag + 1] as number) &&
      (best === 0 || here > (n[best] as number))
    )
      best = lag;
  }
  if (best > 0) peaks.push(best);
  return peaks;
}

/** The top of the parabola through a peak and its neighbours. */
function topOf(n: Float32Array, lag: number): { readonly at: number; readonly height: number } {
  const [a, b, c] = [n[lag - 1] as number, n[lag] as number, n[lag + 1] as number];
  const bend = a - 2 * b + c;
  const shift = bend === 0 ? 0 : (a - c) / (2 * bend);
  return { at: lag + shift, height: b - ((a - c) * shift) / 4 };
}

/** The period at the end of a sound; nothing where nothing repeats. */
export function periodOf(samples: Float32Array, sampleRate: number): Period | undefined {
  const { x, rate } = coarse(samples, sampleRate);
  const [lowest, highest] = PITCH_RANGE;
  const lags = Math.min(Math.ceil(rate / lowest) + 1, Math.floor(x.length / 2));
  const n = squareDifference(x, lags);
  const peaks = keyPeaks(n)
    .filter((lag) => lag >= rate / highest - 1)
    .map((lag) => topOf(n, lag));
  const highestPeak = Math.max(0, ...peaks.map(({ height }) => height));
  const found = peaks.find(({ height }) => height >= NEAR_HIGHEST * highestPeak);
  return found && { hz: rate / found.at, clarity: Math.min(1, found.height) };
}
