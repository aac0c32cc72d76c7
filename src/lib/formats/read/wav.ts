/**
 * Sound out of a WAV file: a RIFF chunk of PCM in 8, 16, 24 or 32 bits or of floating point, of one channel or
 * more, plain or extensible ("Multimedia Programming Interface and Data Specifications 1.0", IBM and Microsoft
 * 1991; "Multiple channel audio data and WAVE files", Microsoft 2007).
 */
import { ok, refuse, type Fault, type Result } from '$lib/result';

/** A recorded sound. */
export interface WavSound {
  readonly sampleRate: number;
  /** All channels as one, samples from −1 to 1. */
  readonly samples: Float32Array;
}

/** A WAV file may have so many bytes: ten minutes of the largest kind that is common. */
export const MOST_WAV_BYTES = 256_000_000;
/** Samples a second that are taken. */
const RATES: readonly [number, number] = [8000, 384_000];
const MOST_CHANNELS = 32;
const [PCM, FLOAT, EXTENSIBLE] = [1, 3, 0xfffe];

const A_WAV = 'a WAV file with PCM of 8, 16, 24 or 32 bits, or floating point of 32 or 64';

const fault = (found: string, allowed = A_WAV): Result<never, Fault> =>
  refuse({ path: '', found, allowed });

/** How samples are kept. */
interface Form {
  readonly float: boolean;
  readonly channels: number;
  readonly sampleRate: number;
  readonly bytes: number;
}

const wordAt = (view: DataView, at: number): string =>
  String.fromCharCode(...Array.from({ length: 4 }, (_, i) => view.getUint8(at + i)));

function formAt(view: DataView, at: number, size: number): Result<Form, Fault> {
  if (size < 16) return fault('a WAV file whose form is cut short');
  const told = view.getUint16(at, true);
  // the extensible form tells the kind in the first bytes of a longer name
  const kind = told === EXTENSIBLE && size >= 26 ? view.getUint16(at + 24, true) : told;
  const channels = view.getUint16(at + 2, true);
  const sampleRate = view.getUint32(at + 4, true);
  const bits = view.getUint16(at + 14, true);
  const float = kind === FLOAT;
  const known = float ? [32, 64].includes(bits) : kind === PCM && [8, 16, 24, 32].includes(bits);
  if (!known) return fault(`sound of another kind (${kind}, ${bits} bits)`);
  if (channels < 1 || channels > MOST_CHANNELS)
    return fault(`${channels} channels`, `1 to ${MOST_CHANNELS} channels`);
  if (sampleRate < RATES[0] || sampleRate > RATES[1])
    return fault(`${sampleRate} samples a second`, `${RATES[0]} to ${RATES[1]}`);
  return ok({ float, channels, sampleRate, bytes: bits / 8 });
}

/** One sample from −1 to 1. */
function sampleAt(view: DataView, at: number, { float, bytes }: Form): number {
  if (float) {
    const value = bytes === 4 ? view.getFloat32(at, true) : view.getFloat64(at, true);
    return Number.isFinite(value) ? value : 0;
  }
  if (bytes === 1) return (view.getUint8(at) - 128) / 128;
  if (bytes === 2) return view.getInt16(at, true) / 32_768;
  if (bytes === 3) return ((view.getInt8(at + 2) << 16) | view.getUint16(at, true)) / 8_388_608;
  return view.getInt32(at, true) / 2_147_483_648;
}

/** Reads a WAV file; a file that ends before its sound does is read as far as it goes. */
export function readWav(bytes: Uint8Array): Result<WavSound, Fault> {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  if (bytes.length < 12 || wordAt(view, 0) !== 'RIFF' || wordAt(view, 8) !== 'WAVE')
    return fault('something else');
  let form: Form | undefined;
  for (let at = 12; at + 8 <= bytes.length;) {
    const word = wordAt(view, at);
    const size = view.getUint32(at + 4, true);
    const from = at + 8;
    const here = Math.min(size, bytes.length - from);
    if (word === 'fmt ') {
      const read = formAt(view, from, here);
      if (!read.ok) return read;
      form = read.value;
    }
    if (word === 'data') {
      if (form === undefined) return fault('sound before its form is told');
      return ok({ sampleRate: form.sampleRate, samples: mixed(view, from, here, form) });
    }
    // chunks are padded to even lengths
    at = from + size + (size % 2);
  }
  return fault('a WAV file without sound');
}

function mixed(view: DataView, from: number, size: number, form: Form): Float32Array {
  const frame = form.channels * form.bytes;
  return Float32Array.from({ length: Math.floor(size / frame) }, (_, i) => {
    let sum = 0;
    for (let channel = 0; channel < form.channels; channel++)
      sum += sampleAt(view, from + i * frame + channel * form.bytes, form);
    return sum / form.channels;
  });
}
