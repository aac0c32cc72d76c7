/**
 * A stretch of sound as a spectrum, and what one tone looks like in it. The stretch is tapered (Hann), and
 * phases count from its middle, so that a steady tone has one real shape, whatever its pitch.
 */
import { transform } from './fourier';

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
  const re = new Float64Array(size);
  const im = new Float64Array(size);
  // a pointer that is turned by one sample at a time makes the taper
  const turn = (2 * Math.PI) / count;
  const [cos, sin] = [Math.cos(turn), Math.sin(turn)];
  let c = Math.cos(turn / 2);
  let s = Math.sin(turn / 2);
  for (let i = 0; i < count; i++) {
    re[i] = (0.5 - 0.5 * c) * (samples[i] as number);
    [c, s] = [c * cos - s * sin, s * cos + c * sin];
  }
  transform(re, im);
  const lines = Math.min(size / 2, Math.ceil((highestHz * size) / sampleRate));
  const middle = (count - 1) / 2;
  const outRe = new Float64Array(lines);
  const outIm = new Float64Array(lines);
  for (let k = 0; k < lines; k++) {
    const angle = (2 * Math.PI * k * middle) / size;
    const [ac, as] = [Math.cos(angle) / count, Math.sin(angle) / count];
    outRe[k] = (re[k] as number) * ac - (im[k] as number) * as;
    outIm[k] = (re[k] as number) * as + (im[k] as number) * ac;
  }
  return { re: outRe, im: outIm, lineHz: sampleRate / size, seconds: count / sampleRate };
}

/** Steps of the table a bin, where a bin is one over the length of the stretch. */
const STEPS = 512;
/** Farther off than this, in bins, a tone is not felt: the taper's shape has fallen by 120 dB. */
export const REACH = 40;

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

/** The size of a spectrum at a frequency, between its lines. */
export function sizeAt({ re, im, lineHz }: Spectrum, hz: number): number {
  const at = hz / lineHz;
  const line = Math.floor(at);
  if (line < 0 || line + 1 >= re.length) return 0;
  const below = Math.hypot(re[line] as number, im[line] as number);
  const above = Math.hypot(re[line + 1] as number, im[line + 1] as number);
  return below + (at - line) * (above - below);
}
