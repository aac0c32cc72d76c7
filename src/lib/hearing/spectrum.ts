/**
 * A stretch of sound as a spectrum, and what one tone looks like in it. The stretch is tapered (Hann), and
 * phases count from its middle, so that a steady tone has one real shape, whatever its pitch.
 */
import { transformReal } from './fourier';

/** A tapered stretch of sound by frequency. */
export interface Spectrum {
  readonly re: Float64Array;
  readonly im: Float64Array;
  /** Hertz from one line of the spectrum to the next. */
  readonly lineHz: number;
  /** Seconds of sound. */
  readonly seconds: number;
}

/** The spectrum of all samples, by lines up to `highestHz`. A tone of amplitude a has a line a/4 high. */
export function spectrumOf(samples: Float32Array, sampleRate: number, highestHz: number): Spectrum {
  const count = samples.length;
  let size = 1;
  while (size < count) size <<= 1;
  const even = new Float64Array(size / 2);
  const odd = new Float64Array(size / 2);
  // a pointer that is turned by one sample at a time makes the taper
  const turn = (2 * Math.PI) / count;
  const [cos, sin] = [Math.cos(turn), Math.sin(turn)];
  let c = Math.cos(turn / 2);
  let s = Math.sin(turn / 2);
  for (let i = 0; i < count; i++) {
    (i & 1 ? odd : even)[i >> 1] = (0.5 - 0.5 * c) * (samples[i] as number);
    [c, s] = [c * cos - s * sin, s * cos + c * sin];
  }
  transformReal(even, odd);
  const lines = Math.min(size / 2, Math.ceil((highestHz * size) / sampleRate));
  const middle = (count - 1) / 2;
  const outRe = new Float64Array(lines);
  const outIm = new Float64Array(lines);
  for (let k = 0; k < lines; k++) {
    const angle = (2 * Math.PI * k * middle) / size;
    const [ac, as] = [Math.cos(angle) / count, Math.sin(angle) / count];
    outRe[k] = (even[k] as number) * ac - (odd[k] as number) * as;
    outIm[k] = (even[k] as number) * as + (odd[k] as number) * ac;
  }
  return { re: outRe, im: outIm, lineHz: sampleRate / size, seconds: count / sampleRate };
}

/** Steps of the table a bin, where a bin is one over the length of the stretch. */
const STEPS = 512;
/** Farther off than this, in bins, a tone is not felt: the taper's shape has fallen by 120 dB. */
const REACH = 40;

/** The transform of the taper at a distance in bins: sin πν / (2πν(1 − ν²)). */
function shapeAt(nu: number): number {
  const v = Math.abs(nu);
  if (v < 1e-6) return 0.5;
  if (Math.abs(v - 1) < 1e-6) return 0.25;
  return Math.sin(Math.PI * v) / (2 * Math.PI * v * (1 - v * v));
}

const TABLE = Float64Array.from({ length: REACH * STEPS + 2 }, (_, i) => shapeAt(i / STEPS));
/** The slope of the shape, over 2π: what a tone that grows along the stretch adds. */
const SLOPES = TABLE.map((_, i) => {
  const step = 1e-4;
  return (shapeAt(i / STEPS + step) - shapeAt(i / STEPS - step)) / (4 * Math.PI * step);
});

/** The bend of the shape, over −4π²: what a tone that grows with the square of the time adds. */
const BENDS = TABLE.map((_, i) => {
  const [nu, step] = [i / STEPS, 2e-3];
  const bend = shapeAt(nu + step) - 2 * shapeAt(nu) + shapeAt(nu - step);
  return -bend / (4 * Math.PI * Math.PI * step * step);
});

const lookUp = (table: Float64Array, nu: number): number => {
  const at = Math.abs(nu) * STEPS;
  const index = Math.floor(at);
  if (index >= REACH * STEPS) return 0;
  const a = table[index] as number;
  return a + (at - index) * ((table[index + 1] as number) - a);
};

/** What a steady tone is at so many bins from its pitch. */
export const steadyAt = (nu: number): number => lookUp(TABLE, nu);
/** What a tone that grows evenly from −½ to ½ is there; a quarter of a turn ahead of the steady one. */
export const growingAt = (nu: number): number =>
  nu < 0 ? -lookUp(SLOPES, nu) : lookUp(SLOPES, nu);

/** What a tone is there that is u² loud where u goes from −½ to ½. */
export const bendingAt = (nu: number): number => lookUp(BENDS, nu);

/**
 * Adds a tone to lines of a spectrum: steady by one complex number, growing by another. This is where hearing
 * spends its time, so both shapes are looked up at once.
 */
export function addShapes(
  { re, im, lineHz, seconds }: Spectrum,
  hz: number,
  [steadyRe, steadyIm, growRe, growIm]: readonly [number, number, number, number],
): void {
  if (steadyRe === 0 && steadyIm === 0 && growRe === 0 && growIm === 0) return;
  const reach = REACH / seconds;
  const from = Math.max(0, Math.ceil((hz - reach) / lineHz));
  const to = Math.min(re.length - 1, Math.floor((hz + reach) / lineHz));
  for (let k = from; k <= to; k++) {
    const nu = (k * lineHz - hz) * seconds;
    const at = Math.abs(nu) * STEPS;
    const index = Math.floor(at);
    if (index >= REACH * STEPS) continue;
    const part = at - index;
    const [a, g] = [TABLE[index] as number, SLOPES[index] as number];
    const steady = a + part * ((TABLE[index + 1] as number) - a);
    const slope = g + part * ((SLOPES[index + 1] as number) - g);
    const growing = nu < 0 ? -slope : slope;
    // i · growing · grow
    re[k] = (re[k] as number) + steady * steadyRe - growing * growIm;
    im[k] = (im[k] as number) + steady * steadyIm + growing * growRe;
  }
}

/** The size of one line; `Math.hypot` takes ten times as long, and guards against what does not come. */
export const sizeOfLine = (re: Float64Array, im: Float64Array, line: number): number =>
  Math.sqrt((re[line] as number) ** 2 + (im[line] as number) ** 2);

/** The size of a spectrum at a frequency, between its lines. */
export function sizeAt({ re, im, lineHz }: Spectrum, hz: number): number {
  const at = hz / lineHz;
  const line = Math.floor(at);
  if (line < 0 || line + 1 >= re.length) return 0;
  const below = sizeOfLine(re, im, line);
  const above = sizeOfLine(re, im, line + 1);
  return below + (at - line) * (above - below);
}
