/**
 * What the microphone hears, as samples: the one way to it for the tuner, for open notes that are played, and
 * for grips. It is opened when a player asks and not before; nothing is recorded and nothing leaves the page.
 */
import { SoundRing } from '$lib/hearing/ring';
import { ok, refuse, type Result } from '$lib/result';

/** A block of sound. */
export interface HeardSound {
  readonly samples: Float32Array<ArrayBuffer>;
  /** When its first sample was heard, in seconds of the microphone's own clock. */
  readonly at: number;
}

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
  /** Called with every block that is heard, 21 ms each. */
  onsound?: ((sound: HeardSound) => void) | undefined;
  /** The context it is heard in, whose clock blocks are timed by; nothing while it is shut. */
  readonly context?: AudioContext | undefined;
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

/** Why a microphone cannot be opened, as a sentence. */
function refusalOf(error: unknown): string {
  const name = error instanceof Error ? error.name : '';
  const reason = error instanceof Error ? error.message : String(error);
  return REFUSALS[name] ?? `The microphone cannot be opened: ${reason}.`;
}

/** A microphone that remembers so many samples. */
export function createMicrophone(remembered: number = LEAST_SAMPLES): Microphone {
  let stream: MediaStream | undefined;
  let context: AudioContext | undefined;
  let ring: SoundRing | undefined;
  let opening = 0;

  const microphone: Microphone = {
    onlost: undefined,
    onsound: undefined,
    get context() {
      return context;
    },
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
        const own = new AudioContext({ latencyHint: 'interactive' });
        context = own;
        const holds = new SoundRing(remembered);
        // fetched when somebody listens, and not before
        const { heardBlocks } = await import('./heardBlocks');
        const node = await heardBlocks(own, (sound) => {
          if (number !== opening) return;
          holds.push(sound.samples);
          microphone.onsound?.(sound);
        });
        if (number !== opening) return ok(undefined);
        ring = holds;
        own.createMediaStreamSource(heard).connect(node);
        heard.getAudioTracks().forEach((track) => {
          track.addEventListener('ended', () => {
            if (number !== opening) return;
            microphone.close();
            microphone.onlost?.();
          });
        });
        if (own.state !== 'running') await own.resume();
        return ok(undefined);
      } catch (error) {
        // shut while it was opening: nobody waits for it any more
        if (number !== opening) return ok(undefined);
        microphone.close();
        return refuse(refusalOf(error));
      }
    },
    samples() {
      return ring?.last(remembered);
    },
    close() {
      opening++;
      stream?.getTracks().forEach((track) => track.stop());
      void context?.close();
      stream = context = ring = undefined;
    },
  };
  return microphone;
}
