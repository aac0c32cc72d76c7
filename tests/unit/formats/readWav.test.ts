/** WAV files as they come, and what is none. */
import { describe, expect, it } from 'vitest';
import { readWav } from '$lib/formats/read/wav';
import { wavBytes } from '$lib/formats/wav';
import { randomFrom } from '../../random';

/** A file by hand: form, bits, channels, the bytes of its sound; chunks before it. */
function file(
  kind: number,
  bits: number,
  channels: number,
  sound: number[],
  before: number[] = [],
) {
  const u16 = (value: number) => [value & 255, value >> 8];
  const u32 = (value: number) => [...u16(value & 65_535), ...u16(value >>> 16)];
  const word = (text: string) => [...text].map((each) => each.charCodeAt(0));
  const frame = (bits / 8) * channels;
  const form = [
    ...[...u16(kind), ...u16(channels), ...u32(44_100), ...u32(44_100 * frame)],
    ...[...u16(frame), ...u16(bits)],
  ];
  const extended =
    kind === 0xfffe
      ? [
          ...form,
          ...u16(22),
          ...u16(bits),
          ...u32(0),
          ...u16(1),
          ...Array.from({ length: 14 }, () => 0),
        ]
      : form;
  const rest = [
    ...word('WAVE'),
    ...before,
    ...[...word('fmt '), ...u32(extended.length), ...extended],
    ...[...word('data'), ...u32(sound.length), ...sound],
  ];
  return Uint8Array.from([...word('RIFF'), ...u32(rest.length), ...rest]);
}
const samplesOf = (bytes: Uint8Array): number[] => {
  const read = readWav(bytes);
  if (!read.ok) throw new Error(read.error.found);
  return [...read.value.samples];
};
const float = (...values: number[]): number[] => [
  ...new Uint8Array(Float32Array.from(values).buffer),
];

describe('a WAV file', () => {
  it('is read in every common form, channels as one', () => {
    expect(samplesOf(file(1, 16, 1, [0, 0x40, 0, 0x80]))).toEqual([0.5, -1]);
    expect(samplesOf(file(1, 16, 2, [0, 0x40, 0, 0]))).toEqual([0.25]);
    expect(samplesOf(file(1, 8, 1, [128, 192, 0]))).toEqual([0, 0.5, -1]);
    expect(samplesOf(file(1, 24, 1, [0, 0, 0x40, 0, 0, 0xc0]))).toEqual([0.5, -0.5]);
    expect(samplesOf(file(1, 32, 1, [0, 0, 0, 0x40]))).toEqual([0.5]);
    expect(samplesOf(file(3, 32, 1, float(0.25, NaN)))).toEqual([0.25, 0]);
    expect(samplesOf(file(0xfffe, 24, 1, [0, 0, 0x40]))).toEqual([0.5]);
  });

  it('is what the program writes', () => {
    const read = readWav(wavBytes([Float32Array.from([0.5, -0.25])], 48_000));
    expect(read).toMatchObject({ ok: true, value: { sampleRate: 48_000 } });
    if (read.ok) expect(read.value.samples[1]).toBeCloseTo(-0.25, 4);
  });

  it('may carry other chunks, of odd length too, and end too soon', () => {
    const other = [0x4c, 0x49, 0x53, 0x54, 3, 0, 0, 0, 1, 2, 3, 0];
    expect(samplesOf(file(1, 16, 1, [0, 0x40], other))).toEqual([0.5]);
    expect(samplesOf(file(1, 16, 1, [0, 0x40, 0, 0x20]).slice(0, -1))).toEqual([0.5]);
  });

  it.each([
    ['no WAV at all', Uint8Array.from([1, 2, 3])],
    ['compressed sound', file(85, 16, 1, [0, 0])],
    ['no channel', file(1, 16, 0, [0, 0])],
    ['more channels than there are', file(1, 16, 99, [0, 0])],
    ['no sound', file(1, 16, 1, []).slice(0, 36)],
  ])('is refused with a reason: %s', (_, bytes) => {
    const read = readWav(bytes);
    expect(read.ok).toBe(false);
    if (!read.ok) expect(read.error.found.length * read.error.allowed.length).toBeGreaterThan(0);
  });

  it('never throws, whatever its bytes', () => {
    const random = randomFrom(11);
    const whole = wavBytes([new Float32Array(20)], 44_100);
    for (let k = 0; k < 2000; k++) {
      const bytes = whole.slice(0, Math.floor(random() * whole.length));
      for (let hits = 0; hits < 3 && bytes.length > 12; hits++)
        bytes[12 + Math.floor(random() * (bytes.length - 12))] = Math.floor(random() * 256);
      expect(() => readWav(bytes)).not.toThrow();
    }
  });
});
