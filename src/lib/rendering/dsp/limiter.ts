/**
 * A limiter that looks ahead: it knows a peak before it comes, is down by then, and comes up slowly.
 * The gain at a sample is a mean of lowest gains wanted around it, so it is never above what that
 * sample needs, and has no corner that could be heard.
 */

/** The ceiling, −2 dBFS; the estimate of peaks between samples leaves the rest up to −1. */
const CEILING = 10 ** (-2 / 20);
/** Seconds that it looks ahead, and in which it goes down. */
const AHEAD = 0.0015;
/** Seconds in which it comes back by 63 %. */
const BACK = 0.12;

/** Holds two channels below the ceiling together; a moment later than they came in. */
export class Limiter {
  /** Samples over which the gain is a mean; by which the sound waits; over which the lowest is sought. */
  readonly #mean: number;
  readonly #wait: number;
  readonly #window: number;
  readonly #left: Float32Array;
  readonly #right: Float32Array;
  readonly #wanted: Float32Array;
  readonly #gains: Float32Array;
  readonly #back: number;
  readonly #before = new Float64Array(6);
  #atWait = 0;
  #atWindow = 0;
  #atMean = 0;
  #gain = 1;
  #sum: number;
  /** Samples since something had to be held down. */
  #free = Infinity;

  constructor(sampleRate: number) {
    this.#mean = Math.max(8, Math.round(AHEAD * sampleRate));
    // a peak between two samples is known two samples later; the lowest gain is held until both are out
    this.#wait = this.#mean + 2;
    this.#window = this.#mean + 4;
    this.#left = new Float32Array(this.#wait);
    this.#right = new Float32Array(this.#wait);
    this.#wanted = new Float32Array(this.#window).fill(1);
    this.#gains = new Float32Array(this.#mean).fill(1);
    this.#sum = this.#mean;
    this.#back = 1 - Math.exp(-1 / (BACK * sampleRate));
  }

  /** Samples by which the sound comes later. */
  get delay(): number {
    return this.#wait;
  }

  /** Limits both channels alike, in place. */
  process(left: Float32Array, right: Float32Array, count: number): void {
    for (let i = 0; i < count; i++) {
      const l = left[i] as number;
      const r = right[i] as number;
      const gain = this.#gainFor(this.#peak(l, r));
      const at = this.#atWait;
      left[i] = (this.#left[at] as number) * gain;
      right[i] = (this.#right[at] as number) * gain;
      this.#left[at] = l;
      this.#right[at] = r;
      this.#atWait = at + 1 === this.#wait ? 0 : at + 1;
    }
  }

  #gainFor(peak: number): number {
    const wanted = peak > CEILING ? CEILING / peak : 1;
    this.#wanted[this.#atWindow] = wanted;
    this.#atWindow = this.#atWindow + 1 === this.#window ? 0 : this.#atWindow + 1;
    this.#free = wanted < 1 ? 0 : this.#free + 1;
    let lowest = 1;
    if (this.#free < this.#window)
      for (let k = 0; k < this.#window; k++)
        if ((this.#wanted[k] as number) < lowest) lowest = this.#wanted[k] as number;
    this.#gain = lowest < this.#gain ? lowest : this.#gain + (lowest - this.#gain) * this.#back;
    const at = this.#atMean;
    this.#sum -= this.#gains[at] ?? 0;
    this.#gains[at] = this.#gain;
    this.#sum += this.#gains[at] ?? 0;
    this.#atMean = at + 1 === this.#mean ? 0 : at + 1;
    return Math.min(1, this.#sum / this.#mean);
  }

  /** The greatest of both channels here and half way from the sample before the last (four points, Lagrange). */
  #peak(l: number, r: number): number {
    const b = this.#before;
    const midLeft = (-(b[0] as number) + 9 * (b[1] as number) + 9 * (b[2] as number) - l) / 16;
    const midRight = (-(b[3] as number) + 9 * (b[4] as number) + 9 * (b[5] as number) - r) / 16;
    b[0] = b[1] as number;
    b[1] = b[2] as number;
    b[2] = l;
    b[3] = b[4] as number;
    b[4] = b[5] as number;
    b[5] = r;
    return Math.max(Math.abs(l), Math.abs(r), Math.abs(midLeft), Math.abs(midRight));
  }
}
