/** Hears grips in a worker: one question at a time, the next when the last is answered. */
import type { HeardGrip } from '$lib/hearing/hear';
import { ok, refuse, type Result } from '$lib/result';

/** A stretch of sound, and the pitches that are expected in it. */
export interface HearRequest {
  readonly samples: Float32Array<ArrayBuffer>;
  readonly sampleRate: number;
  /** In hertz. */
  readonly expected: readonly number[];
  readonly referenceHz: number;
}

export interface Ear {
  /** What is heard; refused with a sentence where the worker is lost. */
  hear(request: HearRequest): Promise<Result<HeardGrip, string>>;
  dispose(): void;
}

/** Starts the worker. */
export function createEar(): Ear {
  const worker = new Worker(new URL('./hear.worker.ts', import.meta.url), { type: 'module' });
  let answer: ((result: Result<HeardGrip, string>) => void) | undefined;
  const done = (result: Result<HeardGrip, string>): void => {
    answer?.(result);
    answer = undefined;
  };
  const lost = refuse('What is heard cannot be worked out: reload the page to try again.');
  worker.onmessage = ({ data }: MessageEvent<HeardGrip>) => done(ok(data));
  worker.onerror = (event) => {
    event.preventDefault();
    done(lost);
  };
  worker.onmessageerror = () => done(lost);
  return {
    hear(request) {
      return new Promise((resolve) => {
        answer = resolve;
        worker.postMessage(request, { transfer: [request.samples.buffer] });
      });
    },
    dispose() {
      worker.terminate();
      done(lost);
    },
  };
}
