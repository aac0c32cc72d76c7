/** The last seconds of a sound that goes on, in a ring: what is older than it holds is forgotten. */
export class SoundRing {
  readonly #samples: Float32Array;
  #total = 0;

  /** A ring of so many samples. */
  constructor(length: number) {
    this.#samples = new Float32Array(length);
  }

  /** How many samples have come in all. */
  get total(): number {
    return this.#total;
  }

  /** The number of the oldest sample that is still held. */
  get oldest(): number {
    return Math.max(0, this.#total - this.#samples.length);
  }

  push(block: Float32Array): void {
    const { length } = this.#samples;
    const kept = block.length > length ? block.subarray(block.length - length) : block;
    const at = (this.#total + block.length - kept.length) % length;
    const first = Math.min(kept.length, length - at);
    this.#samples.set(kept.subarray(0, first), at);
    this.#samples.set(kept.subarray(first), 0);
    this.#total += block.length;
  }

  /** A copy of the samples from one number up to another, as far as they are held. */
  slice(from: number, to = this.#total): Float32Array<ArrayBuffer> {
    const begin = Math.max(from, this.oldest);
    const end = Math.min(to, this.#total);
    const out = new Float32Array(Math.max(0, end - begin));
    const { length } = this.#samples;
    const at = begin % length;
    const first = Math.min(out.length, length - at);
    out.set(this.#samples.subarray(at, at + first));
    out.set(this.#samples.subarray(0, out.length - first), first);
    return out;
  }

  /** The last so many samples, silence before the first. */
  last(count: number): Float32Array<ArrayBuffer> {
    const heard = this.slice(this.#total - count);
    if (heard.length === count) return heard;
    const out = new Float32Array(count);
    out.set(heard, count - heard.length);
    return out;
  }
}
