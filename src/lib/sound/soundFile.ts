/** The sound of a schedule as a WAV file, rendered beside the page so that nothing waits for it. */
import { ok, refuse, type Result } from '$lib/result';
import { refusedUnrendered, type Rendering } from '$lib/rendering/renderSound';
import type { ScheduledNote } from '$lib/playing/schedule';

export interface FileRequest {
  readonly notes: readonly ScheduledNote[];
  readonly how: Rendering;
}

/** The bytes of a WAV file, or why there are none, as a sentence. */
export function soundFile(
  notes: readonly ScheduledNote[],
  how: Rendering,
): Promise<Result<Uint8Array<ArrayBuffer>, string>> {
  const refused = refusedUnrendered(notes);
  if (refused !== undefined) return Promise.resolve(refuse(refused));
  return new Promise((resolve) => {
    const worker = new Worker(new URL('./soundFile.worker.ts', import.meta.url), {
      type: 'module',
    });
    const done = (result: Result<Uint8Array<ArrayBuffer>, string>): void => {
      worker.terminate();
      resolve(result);
    };
    const fail = (why: string): void => {
      done(refuse(`The sound could not be written: ${why}.`));
    };
    worker.onmessage = ({ data }: MessageEvent<Uint8Array<ArrayBuffer>>) => {
      done(ok(data));
    };
    worker.onerror = (event) => {
      event.preventDefault();
      fail(event.message || 'its worker did not start');
    };
    worker.onmessageerror = () => {
      fail('its worker was not understood');
    };
    worker.postMessage({ notes, how } satisfies FileRequest);
  });
}
