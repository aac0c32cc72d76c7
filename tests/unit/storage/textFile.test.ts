import { describe, expect, it } from 'vitest';
import { textOf } from '$lib/storage/textFile';

const fileOf = (bytes: readonly number[]): File => new File([new Uint8Array(bytes)], 'x.json');
const why = async (file: Parameters<typeof textOf>[0]): Promise<string> => {
  const text = await textOf(file);
  return text.ok ? `“${text.value}”` : text.error.map(({ found }) => found).join();
};

describe('the text of an opened file', () => {
  it('is read as UTF-8, without the mark that some programs put before it', async () => {
    // U+266F ♯ is E2 99 AF (the Unicode Standard, table 3-6)
    expect(await why(fileOf([0xef, 0xbb, 0xbf, 0x43, 0xe2, 0x99, 0xaf]))).toBe('“C♯”');
  });

  // ill-formed sequences, the Unicode Standard, section 3.9
  it.each([
    ['a lone continuation byte', [0x80]],
    ['a sequence that ends too soon', [0xe2, 0x99]],
    ['an overlong form', [0xc0, 0xaf]],
    ['half of a surrogate pair', [0xed, 0xa0, 0x80]],
    ['beyond the last code point', [0xf4, 0x90, 0x80, 0x80]],
    ['UTF-16', [0xff, 0xfe, 0x7b, 0x00]],
  ])('that has %s is refused', async (_what, bytes) => {
    expect(await why(fileOf(bytes))).toBe('bytes that are not text in UTF-8');
  });

  it('of 50 megabytes is refused by its size alone', async () => {
    let read = false;
    const arrayBuffer = (): Promise<ArrayBuffer> => {
      read = true;
      return Promise.resolve(new ArrayBuffer(0));
    };
    expect(await why({ name: 'x', size: 50_000_000, arrayBuffer })).toBe('50 megabytes');
    expect(read).toBe(false);
  });

  it('that the browser may not read is refused', async () => {
    const arrayBuffer = (): Promise<ArrayBuffer> => Promise.reject(new Error('NotReadableError'));
    expect(await why({ name: 'x', size: 5, arrayBuffer })).toContain('cannot be read');
  });
});
