/**
 * What was played, found again in what is heard: by the correlation of both, with all frequencies made
 * equally loud ("The generalized correlation method for estimation of time delay", Knapp and Carter, IEEE
 * Transactions on Acoustics, Speech and Signal Processing 24, 1976: the phase transform).
 */
import { transform } from './fourier';

/** A sound found in another. */
export interface Echo {
  /** Samples after the beginning of what is heard at which what was played begins. */
  readonly at: number;
  /** How far the peak stands out: its height over the root mean square of all others. */
  readonly clear: number;
}

/** The least that a peak has to stand out. */
export const CLEAR = 12;
/** Lines weaker than this against the strongest say nothing. */
const FLOOR = 1e-4;

/** Samples at both ends that are softened: an end that is cut is alike in all sounds. */
const SOFT = 1024;

function soften(into: Float64Array, samples: Float32Array): void {
  const { length } = samples;
  const soft = Math.min(SOFT, length >> 3);
  for (let i = 0; i < length; i++) {
    const end = Math.min(i, length - 1 - i);
    const part = end >= soft ? 1 : 0.5 - 0.5 * Math.cos((Math.PI * (end + 0.5)) / soft);
    into[i] = part * (samples[i] as number);
  }
}

/** Where what was played is heard; `clear` tells whether it is heard at all. */
export function echoOf(played: Float32Array, heard: Float32Array): Echo | undefined {
  if (played.length === 0 || heard.length === 0) return undefined;
  let size = 1;
  while (size < played.length + heard.length) size <<= 1;
  // both at once: one real, one imaginary
  const [re, im] = [new Float64Array(size), new Float64Array(size)];
  soften(re, heard);
  soften(im, played);
  transform(re, im);
  const [crossRe, crossIm] = [new Float64Array(size), new Float64Array(size)];
  const sizes = new Float64Array(size);
  let most = 0;
  for (let k = 0; k < size; k++) {
    const other = (size - k) % size;
    const [a, b, c, d] = [re[k] ?? 0, im[k] ?? 0, re[other] ?? 0, im[other] ?? 0];
    const [hr, hi] = [(a + c) / 2, (b - d) / 2];
    const [pr, pi] = [(b + d) / 2, (c - a) / 2];
    crossRe[k] = hr * pr + hi * pi;
    crossIm[k] = hi * pr - hr * pi;
    sizes[k] = Math.hypot(crossRe[k] ?? 0, crossIm[k] ?? 0);
    most = Math.max(most, sizes[k] ?? 0);
  }
  if (most === 0) return undefined;
  for (let k = 0; k < size; k++) {
    const whole = sizes[k] ?? 0;
    const weight = whole < FLOOR * most ? 0 : 1 / whole;
    crossRe[k] = (crossRe[k] ?? 0) * weight;
    // its conjugate: one transform more turns it back
    crossIm[k] = -(crossIm[k] ?? 0) * weight;
  }
  transform(crossRe, crossIm);
  let [at, peak, sum] = [0, 0, 0];
  for (let i = 0; i < heard.length; i++) {
    const value = crossRe[i] ?? 0;
    sum += value * value;
    if (value > peak) [at, peak] = [i, value];
  }
  const rest = Math.sqrt(Math.max(1e-30, sum - peak * peak) / heard.length);
  return { at, clear: peak / rest };
}

/** Fainter peaks, of strings against strings, are believed where they come back at the same place. */
const FAINT = 9;
/** Looks in a row that have to agree, within so many seconds. */
const AGREE = 3;
const AGREE_S = 0.025;

/**
 * Whether the loudspeaker is heard: what it plays comes always equally late, while a player who plays the
 * same notes is found now here, now there.
 */
export class EchoWatch {
  readonly #delays: number[] = [];

  /** One more look; `delay` is where it was found, in seconds. */
  look(clear: number, delay: number): boolean {
    if (clear < FAINT) this.#delays.length = 0;
    else this.#delays.push(delay);
    const last = this.#delays.slice(-AGREE);
    return last.length === AGREE && Math.max(...last) - Math.min(...last) <= AGREE_S;
  }
}
