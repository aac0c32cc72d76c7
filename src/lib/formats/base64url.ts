/** Bytes as letters that stand in an address as they are: base64url, RFC 4648 section 5, unpadded. */

const LETTERS = 'ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_';
const VALUES = new Map(Array.from(LETTERS, (letter, value) => [letter, value]));

/** Bytes in the letters of base64url. */
export function base64url(bytes: Uint8Array): string {
  let text = '';
  for (let at = 0; at < bytes.length; at += 3) {
    const three = ((bytes[at] ?? 0) << 16) | ((bytes[at + 1] ?? 0) << 8) | (bytes[at + 2] ?? 0);
    const letters = Math.min(3, bytes.length - at) + 1;
    for (let letter = 0; letter < letters; letter++)
      text += LETTERS.charAt((three >> (18 - 6 * letter)) & 63);
  }
  return text;
}

/** The bytes again; `undefined` for what is not base64url. */
export function fromBase64url(text: string): Uint8Array | undefined {
  if (text.length % 4 === 1) return undefined;
  const bytes = new Uint8Array(Math.floor((text.length * 3) / 4));
  let held = 0;
  let bits = 0;
  let at = 0;
  for (const letter of text) {
    const value = VALUES.get(letter);
    if (value === undefined) return undefined;
    held = ((held << 6) | value) & 0xffff;
    bits += 6;
    if (bits < 8) continue;
    bits -= 8;
    bytes[at++] = held >> bits;
  }
  return bytes;
}
