/** The instrument on the audio thread. */
import { PlayedInstrument } from '$lib/rendering/dsp/playedInstrument';
import { obey, type Message } from './messages';

// What the audio thread has; TypeScript does not describe it.
declare const sampleRate: number;
declare const currentTime: number;
declare function registerProcessor(name: string, processor: unknown): void;
declare class AudioWorkletProcessor {
  readonly port: MessagePort;
}

interface Options {
  /** Said before the first sample; an offline context may be done before a message arrives. */
  readonly processorOptions?: { readonly messages?: readonly Message[] };
}

class PlayedInstrumentProcessor extends AudioWorkletProcessor {
  readonly #instrument = new PlayedInstrument(sampleRate);

  constructor({ processorOptions }: Options = {}) {
    super();
    for (const message of processorOptions?.messages ?? [])
      obey(this.#instrument, message, currentTime);
    this.port.onmessage = ({ data }: MessageEvent<Message>) => {
      obey(this.#instrument, data, currentTime);
    };
  }

  process(
    [beside]: readonly (readonly Float32Array[])[],
    [output]: readonly (readonly Float32Array[])[],
  ): boolean {
    const [left, right] = output ?? [];
    if (left && right) this.#instrument.process(left, right, currentTime, beside);
    return true;
  }
}

registerProcessor('played-instrument', PlayedInstrumentProcessor);
