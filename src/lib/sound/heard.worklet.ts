/** What comes into the audio thread, handed to the page in blocks, each with the time of its first sample. */

// What the audio thread has; TypeScript does not describe it.
declare const currentTime: number;
declare function registerProcessor(name: string, processor: unknown): void;
declare class AudioWorkletProcessor {
  readonly port: MessagePort;
}

/** A block, and when it began, in seconds of the context. */
export interface HeardBlock {
  readonly samples: Float32Array<ArrayBuffer>;
  readonly at: number;
}

/** Samples of a block: 21 ms at 48 kHz. */
const BLOCK = 1024;

class HeardProcessor extends AudioWorkletProcessor {
  #block = new Float32Array(BLOCK);
  #filled = 0;
  #at = 0;

  process([input]: readonly (readonly Float32Array[])[]): boolean {
    const [channel] = input ?? [];
    // nothing is connected yet: silence, so that no time is lost
    const samples = channel ?? new Float32Array(128);
    if (this.#filled === 0) this.#at = currentTime;
    this.#block.set(samples, this.#filled);
    this.#filled += samples.length;
    if (this.#filled < BLOCK) return true;
    const block: HeardBlock = { samples: this.#block, at: this.#at };
    this.port.postMessage(block, [this.#block.buffer]);
    this.#block = new Float32Array(BLOCK);
    this.#filled = 0;
    return true;
  }
}

registerProcessor('heard', HeardProcessor);
