/**
 * Sound in blocks that follow one another without a gap. An audio thread that begins, or comes too late, skips some
 * samples and its clock goes on: where they are missing silence stands, so that what comes later keeps its time.
 */

/** A block, and when it began, in seconds of the context. */
export interface HeardBlock {
  readonly samples: Float32Array<ArrayBuffer>;
  readonly at: number;
}

/** Samples of a block: 21 ms at 48 kHz. */
const BLOCK = 1024;
/** Seconds at most that are made up for; after more it begins anew. */
const LONGEST_S = 10;

export class GaplessBlocks {
  readonly #sampleRate: number;
  readonly #tell: (block: HeardBlock) => void;
  #block = new Float32Array(BLOCK);
  #filled = 0;
  /** The frame that comes next. */
  #next: number | undefined;

  constructor(sampleRate: number, tell: (block: HeardBlock) => void) {
    this.#sampleRate = sampleRate;
    this.#tell = tell;
  }

  /** More sound, whose first sample is of that frame of the context's clock. */
  add(samples: Float32Array, frame: number): void {
    const missing = frame - (this.#next ?? frame);
    if (missing > LONGEST_S * this.#sampleRate) this.#filled = 0;
    else if (missing > 0) this.#put(new Float32Array(missing), frame - missing);
    this.#put(samples, frame);
    this.#next = frame + samples.length;
  }

  #put(samples: Float32Array, frame: number): void {
    for (let from = 0; from < samples.length;) {
      const part = samples.subarray(from, from + BLOCK - this.#filled);
      this.#block.set(part, this.#filled);
      this.#filled += part.length;
      from += part.length;
      if (this.#filled < BLOCK) continue;
      this.#tell({ samples: this.#block, at: (frame + from - BLOCK) / this.#sampleRate });
      this.#block = new Float32Array(BLOCK);
      this.#filled = 0;
    }
  }
}
