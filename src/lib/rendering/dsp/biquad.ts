/** Second-order filters after Bristow-Johnson's "Cookbook formulae for audio equalizer biquad filter coefficients". */
export class Biquad {
  readonly #b0: number;
  readonly #b1: number;
  readonly #b2: number;
  readonly #a1: number;
  readonly #a2: number;
  #s1 = 0;
  #s2 = 0;

  private constructor(b: readonly [number, number, number], a: readonly [number, number, number]) {
    this.#b0 = b[0] / a[0];
    this.#b1 = b[1] / a[0];
    this.#b2 = b[2] / a[0];
    this.#a1 = a[1] / a[0];
    this.#a2 = a[2] / a[0];
  }

  /** Lets through what is below a frequency; `q` above 0.71 lifts it there. */
  static lowpass(sampleRate: number, hz: number, q: number): Biquad {
    const { cos, alpha } = angles(sampleRate, hz, q);
    return new Biquad([(1 - cos) / 2, 1 - cos, (1 - cos) / 2], [1 + alpha, -2 * cos, 1 - alpha]);
  }

  /** Lets through what is above a frequency. */
  static highpass(sampleRate: number, hz: number, q: number): Biquad {
    const { cos, alpha } = angles(sampleRate, hz, q);
    return new Biquad([(1 + cos) / 2, -1 - cos, (1 + cos) / 2], [1 + alpha, -2 * cos, 1 - alpha]);
  }

  /** Lifts what is around a frequency by decibels. */
  static peak(sampleRate: number, hz: number, q: number, db: number): Biquad {
    const { cos, alpha } = angles(sampleRate, hz, q);
    const a = 10 ** (db / 40);
    return new Biquad(
      [1 + alpha * a, -2 * cos, 1 - alpha * a],
      [1 + alpha / a, -2 * cos, 1 - alpha / a],
    );
  }

  next(x: number): number {
    const y = this.#b0 * x + this.#s1;
    this.#s1 = this.#b1 * x - this.#a1 * y + this.#s2;
    this.#s2 = this.#b2 * x - this.#a2 * y;
    return y;
  }

  clear(): void {
    this.#s1 = 0;
    this.#s2 = 0;
  }
}

function angles(sampleRate: number, hz: number, q: number): { cos: number; alpha: number } {
  const w = (2 * Math.PI * hz) / sampleRate;
  return { cos: Math.cos(w), alpha: Math.sin(w) / (2 * q) };
}
