/** The worker that hears grips, as the page speaks to it. */
import type { DueReading, GripReading, Loudness } from '$lib/hearing/stream';
import { ok, refuse, type Result } from '$lib/result';
import type { DueGrips, Expected, FromWorker, ToWorker } from './earMessages';

export interface Ear {
  /** What should sound from now on; what was heard of anything before is not told any more. */
  expect(expected: Expected, sampleRate: number): void;
  /** More of the sound, when it began, in seconds of the microphone's clock, and what the band plays, in hertz. */
  push(samples: Float32Array<ArrayBuffer>, at: number, band?: readonly number[]): void;
  /** What the page plays just now, to be found again in the sound. */
  plays(samples: Float32Array): void;
  dispose(): void;
  onreading: ((reading: GripReading) => void) | undefined;
  /** A stroke fell, of whatever strings, at a second of the microphone's clock: told at once, before any reading. */
  onstroke?: ((at: number) => void) | undefined;
  onloudness: ((at: number, loudness: Loudness) => void) | undefined;
  onecho: ((heard: boolean) => void) | undefined;
  /** Called with a sentence where the worker is lost. */
  onlost: ((why: string) => void) | undefined;
}

const LOST = 'What is heard cannot be worked out: reload the page to try again.';

function startWorker(): Worker {
  return new Worker(new URL('./hear.worker.ts', import.meta.url), { type: 'module' });
}

/** Starts the worker. */
export function createEar(): Ear {
  const worker = startWorker();
  let number = 0;
  const say = (message: ToWorker, transfer: Transferable[] = []): void =>
    worker.postMessage(message, { transfer });
  const ear: Ear = {
    onreading: undefined,
    onloudness: undefined,
    onecho: undefined,
    onlost: undefined,
    expect: (expected, sampleRate) =>
      say({ say: 'expect', number: ++number, sampleRate, ...expected }),
    push: (samples, at, band = []) => say({ say: 'sound', samples, at, band }, [samples.buffer]),
    plays: (samples) => say({ say: 'played', samples }),
    dispose: () => worker.terminate(),
  };
  worker.onmessage = ({ data }: MessageEvent<FromWorker>) => {
    if (data.say === 'reading') {
      if (data.number === number) ear.onreading?.(data.reading);
    } else if (data.say === 'stroke') {
      if (data.number === number) ear.onstroke?.(data.at);
    } else if (data.say === 'loudness') ear.onloudness?.(data.at, data);
    else if (data.say === 'echo') ear.onecho?.(data.heard);
  };
  worker.onerror = (event) => {
    event.preventDefault();
    ear.onlost?.(LOST);
  };
  worker.onmessageerror = () => ear.onlost?.(LOST);
  return ear;
}

/** All readings of a recorded take, by the same ear; refused with a sentence. */
export function hearTake(
  samples: Float32Array<ArrayBuffer>,
  sampleRate: number,
  due: DueGrips,
): Promise<Result<readonly DueReading[], string>> {
  return new Promise((resolve) => {
    const worker = startWorker();
    const done = (result: Result<readonly DueReading[], string>): void => {
      worker.terminate();
      resolve(result);
    };
    worker.onmessage = ({ data }: MessageEvent<FromWorker>) => {
      if (data.say === 'take') done(ok(data.readings));
    };
    worker.onerror = (event) => {
      event.preventDefault();
      done(refuse(LOST));
    };
    const message: ToWorker = { say: 'take', samples, sampleRate, ...due };
    worker.postMessage(message, { transfer: [samples.buffer] });
  });
}
