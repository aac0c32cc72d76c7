/** The header by the RIFF specification (IBM and Microsoft 1991), written out by hand. */
import { describe, expect, it } from 'vitest';
import { wavBytes } from '$lib/formats/wav';

describe('a WAV file', () => {
  const left = Float32Array.of(0, 1, -1);
  const right = Float32Array.of(0.5, 2, -3);
  const bytes = wavBytes([left, right], 48_000);

  it('begins as the format says', () => {
    // prettier-ignore
    expect([...bytes.subarray(0, 44)]).toEqual([
      0x52, 0x49, 0x46, 0x46, // RIFF
      48, 0, 0, 0,            // 36 + 12 bytes of data follow
      0x57, 0x41, 0x56, 0x45, // WAVE
      0x66, 0x6d, 0x74, 0x20, // fmt
      16, 0, 0, 0,
      1, 0,                   // PCM
      2, 0,                   // channels
      0x80, 0xbb, 0, 0,       // 48,000 frames a second
      0, 0xee, 2, 0,          // 192,000 bytes a second
      4, 0,                   // bytes a frame
      16, 0,                  // bits a sample
      0x64, 0x61, 0x74, 0x61, // data
      12, 0, 0, 0,
    ]);
  });

  it('holds the samples in turn, and cuts what is too loud', () => {
    const view = new DataView(bytes.buffer, 44);
    const samples = Array.from({ length: 6 }, (_, i) => view.getInt16(2 * i, true));
    expect(samples).toEqual([0, 16_384, 32_767, 32_767, -32_767, -32_767]);
  });

  it('can be empty', () => {
    expect(wavBytes([new Float32Array(0)], 8000)).toHaveLength(44);
  });

  it('needs channels of one length', () => {
    expect(() => wavBytes([left, new Float32Array(2)], 48_000)).toThrow(/one length/);
  });
});
