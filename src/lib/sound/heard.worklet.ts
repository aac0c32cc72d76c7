/** What comes into the audio thread, handed to the page in blocks, each with the time of its first sample. */
import { GaplessBlocks, type HeardBlock } from './gaplessBlocks';

export type { HeardBlock };

// What the audio thread has; TypeScript does not describe it.
declare const currentFrame: number;
declare const sampleRate: number;
declare function registerProcessor(name: string, processor: unknown): void;
declare class AudioWorkletProcessor {
  readonly port: MessagePort;
}

/** Nothing is connected yet: silence, so that no time is lost. */
const SILENCE = new Float32Array(128);

class HeardProcessor extends AudioWorkletProcessor {
  readonly #blocks = new GaplessBlocks(sampleRate, (block) =>
    this.port.postMessage(block, [block.samples.buffer]),
  );

  process([input]: readonly (readonly Float32Array[])[]): boolean {
    this.#blocks.add(input?.[0] ?? SILENCE, currentFrame);
    return true;
  }
}

registerProcessor('heard', HeardProcessor);
