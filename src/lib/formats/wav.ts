/**
 * Sound as a WAV file: a RIFF chunk of 16-bit PCM, little-endian ("Multimedia Programming Interface and
 * Data Specifications 1.0", IBM and Microsoft 1991). Every player of sound reads it.
 */

const HEADER_BYTES = 44;
const PCM = 1;
const BITS = 16;

/** Channels of equal length with samples from −1 to 1; what lies beyond is cut. */
export function wavBytes(
  channels: readonly Float32Array[],
  sampleRate: number,
): Uint8Array<ArrayBuffer> {
  const frames = channels[0]?.length ?? 0;
  if (channels.some(({ length }) => length !== frames))
    throw new Error('the channels of a WAV file must be of one length');
  const frameBytes = channels.length * (BITS / 8);
  const dataBytes = frames * frameBytes;
  const bytes = new Uint8Array(HEADER_BYTES + dataBytes);
  const view = new DataView(bytes.buffer);
  const text = (at: number, word: string): void => {
    for (let i = 0; i < word.length; i++) bytes[at + i] = word.charCodeAt(i);
  };
  text(0, 'RIFF');
  view.setUint32(4, HEADER_BYTES - 8 + dataBytes, true);
  text(8, 'WAVE');
  text(12, 'fmt ');
  view.setUint32(16, 16, true);
  view.setUint16(20, PCM, true);
  view.setUint16(22, channels.length, true);
  view.setUint32(24, sampleRate, true);
  view.setUint32(28, sampleRate * frameBytes, true);
  view.setUint16(32, frameBytes, true);
  view.setUint16(34, BITS, true);
  text(36, 'data');
  view.setUint32(40, dataBytes, true);
  let at = HEADER_BYTES;
  for (let frame = 0; frame < frames; frame++)
    for (const channel of channels) {
      const sample = Math.max(-1, Math.min(1, channel[frame] ?? 0));
      view.setInt16(at, Math.round(sample * 32_767), true);
      at += 2;
    }
  return bytes;
}
