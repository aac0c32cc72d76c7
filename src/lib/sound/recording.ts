/** A take while it is recorded: what the microphone hears, and beside it what the page plays. */
import { heardBlocks } from './heardBlocks';
import type { HeardSound } from './microphone';
import { whatPlays } from './played';

/** The longest take, in seconds: ten minutes, which is 58 megabytes a track. */
const LONGEST_TAKE_S = 600;

const toInts = (samples: Float32Array): Int16Array<ArrayBuffer> =>
  Int16Array.from(samples, (each) => Math.round(32_767 * Math.max(-1, Math.min(1, each))));

/** Samples as they are kept back to what is heard, from −1 to 1. */
export const fromInts = (ints: Int16Array): Float32Array<ArrayBuffer> =>
  Float32Array.from(ints, (each) => each / 32_767);

/** A take, as long as it was; both tracks begin with it. */
export interface Recorded {
  readonly sampleRate: number;
  readonly heard: Int16Array<ArrayBuffer>;
  /** What the page played meanwhile, when it left the program; nothing where it was silent. */
  readonly band?: Int16Array<ArrayBuffer>;
  /** When it began, in seconds of the microphone's clock. */
  readonly began: number;
}

/** Both tracks as one, the band as it was heard: so many seconds late. */
export function mixed({ heard, band, sampleRate }: Recorded, delay: number): Float32Array {
  const out = fromInts(heard);
  if (band === undefined) return out;
  const late = Math.round(delay * sampleRate);
  for (let i = late; i < out.length && i - late < band.length; i++)
    out[i] = (out[i] as number) + (band[i - late] as number) / 32_767;
  return out;
}

export class Recording {
  readonly #sampleRate: number;
  readonly #clock: () => number;
  readonly #heard: Int16Array[] = [];
  readonly #band = new Map<number, Int16Array>();
  readonly #nodes: AudioNode[] = [];
  readonly #end: () => void;
  #began: number | undefined;
  #count = 0;
  #ended = false;

  /** `clock` is the microphone's, in seconds. */
  constructor(sampleRate: number, clock: () => number) {
    this.#sampleRate = sampleRate;
    this.#clock = clock;
    this.#end = whatPlays((node) => void this.#follow(node));
  }

  get sampleRate(): number {
    return this.#sampleRate;
  }

  /** Seconds that have been recorded. */
  get seconds(): number {
    return this.#count / this.#sampleRate;
  }

  /** It has become as long as a take can be. */
  get isFull(): boolean {
    return this.seconds >= LONGEST_TAKE_S;
  }

  heard({ samples, at }: HeardSound): void {
    if (this.isFull || this.#ended) return;
    this.#began ??= at;
    this.#heard.push(toInts(samples));
    this.#count += samples.length;
  }

  /** What the page plays, by its own clock, brought to that of the microphone. */
  async #follow(node: AudioNode): Promise<void> {
    const context = node.context as AudioContext;
    if (context.sampleRate !== this.#sampleRate) return;
    let offset: number | undefined;
    const tap = await heardBlocks(context, ({ samples, at }) => {
      // both clocks run evenly: what is between them is asked once
      offset ??= this.#clock() - context.currentTime;
      if (!this.#ended && samples.some((each) => each !== 0))
        this.#band.set(at + offset, toInts(samples));
    });
    if (this.#ended) return;
    node.connect(tap);
    this.#nodes.push(tap);
  }

  finish(): Recorded {
    this.#ended = true;
    this.#end();
    this.#nodes.forEach((node) => node.disconnect());
    const heard = new Int16Array(this.#count);
    let filled = 0;
    for (const block of this.#heard) {
      heard.set(block, filled);
      filled += block.length;
    }
    const began = this.#began ?? 0;
    const band = new Int16Array(this.#band.size === 0 ? 0 : this.#count);
    for (const [at, block] of this.#band)
      block.forEach((each, i) => {
        const place = Math.round((at - began) * this.#sampleRate) + i;
        if (place < 0 || place >= band.length) return;
        band[place] = Math.max(-32_767, Math.min(32_767, (band[place] ?? 0) + each));
      });
    return {
      sampleRate: this.#sampleRate,
      heard,
      began,
      ...(band.length === 0 ? {} : { band }),
    };
  }
}
