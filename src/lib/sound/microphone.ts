/**
 * What the microphone hears, as samples. It is opened when a player asks and not before; nothing is
 * recorded and nothing leaves the page.
 */
import { ok, refuse, type Result } from '$lib/result';

export interface Microphone {
  /** Opens the microphone; refused with a sentence. */
  open(): Promise<Result<undefined, string>>;
  /** The last samples heard, oldest first; nothing while it is shut. */
  samples(): Float32Array | undefined;
  readonly sampleRate: number;
  /** Lets go of the microphone. */
  close(): void;
  /** Called when the microphone goes away by itself: unplugged, or taken back. */
  onlost: (() => void) | undefined;
}

/** A third of a second at 48 kHz, the least that the lowest strings need. */
const LEAST_SAMPLES = 16_384;

/** As the microphone hears it: what browsers do to speech would bend a string's pitch and level. */
const PLAIN: MediaTrackConstraints = {
  echoCancellation: false,
  noiseSuppression: false,
  autoGainControl: false,
};

const REFUSALS: Readonly<Record<string, string>> = {
  NotAllowedError:
    'The browser was not allowed to use the microphone. Allow it in the address bar or the browser’s settings, and press Listen again.',
  SecurityError: 'The browser lets no page use the microphone here.',
  NotFoundError: 'No microphone was found. Plug one in, and press Listen again.',
  NotReadableError: 'The microphone is in use by another program, or does not answer.',
};

/** A microphone that remembers so many samples: a power of two, at most 32,768. */
export function createMicrophone(remembered: number = LEAST_SAMPLES): Microphone {
  let stream: MediaStream | undefined;
  let context: AudioContext | undefined;
  let analyser: AnalyserNode | undefined;
  let buffer = new Float32Array(remembered);
  let opening = 0;

  const microphone: Microphone = {
    onlost: undefined,
    get sampleRate() {
      return context?.sampleRate ?? 48_000;
    },
    async open() {
      microphone.close();
      const number = ++opening;
      // a page that is not served safely has no such thing
      const devices = (navigator as { mediaDevices?: MediaDevices }).mediaDevices;
      if (devices === undefined)
        return refuse('This browser gives no page a microphone at this address; it wants https.');
      try {
        const heard = await devices.getUserMedia({ audio: PLAIN });
        // closed, or opened anew, while the player was asked
        if (number !== opening) {
          heard.getTracks().forEach((track) => track.stop());
          return ok(undefined);
        }
        stream = heard;
        context = new AudioContext();
        analyser = context.createAnalyser();
        analyser.fftSize = remembered;
        buffer = new Float32Array(analyser.fftSize);
        context.createMediaStreamSource(stream).connect(analyser);
        stream.getAudioTracks().forEach((track) => {
          track.addEventListener('ended', () => {
            if (number !== opening) return;
            microphone.close();
            microphone.onlost?.();
          });
        });
        if (context.state !== 'running') await context.resume();
        return ok(undefined);
      } catch (error) {
        microphone.close();
        const name = error instanceof Error ? error.name : '';
        const reason = error instanceof Error ? error.message : String(error);
        return refuse(REFUSALS[name] ?? `The microphone cannot be opened: ${reason}.`);
      }
    },
    samples() {
      if (analyser === undefined) return undefined;
      analyser.getFloatTimeDomainData(buffer);
      return buffer;
    },
    close() {
      opening++;
      stream?.getTracks().forEach((track) => track.stop());
      void context?.close();
      stream = context = analyser = undefined;
    },
  };
  return microphone;
}
