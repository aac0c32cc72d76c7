/**
 * A small room: four delay lines that feed one another through an orthogonal matrix (a feedback delay
 * network after Stautner and Puckette 1982 and Jot 1991), each darkened a little on its way.
 */

/** Seconds of the four ways through the room: no common measure, so that no tone of its own is heard. */
const WAYS = [0.0297, 0.0371, 0.0411, 0.0437] as const;
/** Seconds until the room has fallen by 60 dB. */
const FALLS = 1.3;
/** Hertz above which walls swallow more. */
const DARK = 3200;

/** The room: what goes in comes back from all sides, and dies away. */
export class Reverb {
  readonly #lines: readonly Float32Array[];
  readonly #gains: readonly number[];
  readonly #lows = new Float64Array(WAYS.length);
  readonly #at = new Int32Array(WAYS.length);
  readonly #dark: number;
  /** What the room gave for the last sample. */
  left = 0;
  right = 0;

  constructor(sampleRate: number) {
    this.#lines = WAYS.map((seconds) => new Float32Array(Math.round(seconds * sampleRate)));
    // half from the matrix, which would double the energy
    this.#gains = WAYS.map((seconds) => 0.5 * 1000 ** (-seconds / FALLS));
    this.#dark = Math.exp((-2 * Math.PI * DARK) / sampleRate);
  }

  next(x: number): void {
    const [a, b, c, d] = [this.#read(0), this.#read(1), this.#read(2), this.#read(3)];
    this.left = a + c;
    this.right = b + d;
    // Hadamard's matrix of order four
    this.#write(0, x + a + b + c + d);
    this.#write(1, x + a - b + c - d);
    this.#write(2, x + a + b - c - d);
    this.#write(3, x + a - b - c + d);
  }

  #read(way: number): number {
    const read = (this.#lines[way] as Float32Array)[this.#at[way] as number] as number;
    const low = (1 - this.#dark) * read + this.#dark * (this.#lows[way] as number);
    this.#lows[way] = low;
    return low;
  }

  #write(way: number, sample: number): void {
    const line = this.#lines[way] as Float32Array;
    const at = this.#at[way] as number;
    line[at] = sample * (this.#gains[way] as number);
    this.#at[way] = at + 1 === line.length ? 0 : at + 1;
  }

  clear(): void {
    for (const line of this.#lines) line.fill(0);
    this.#lows.fill(0);
    this.left = 0;
    this.right = 0;
  }
}
