import { deflateSync } from 'fflate';
import { describe, expect, it } from 'vitest';
import { base64url, fromBase64url } from '$lib/formats/base64url';
import { crc32 } from '$lib/formats/crc32';
import { linkText, readLink, type Linked } from '$lib/formats/shareLink';
import { BUILT_IN_IDS, builtIn } from '$lib/setup/builtIns';
import { setupKind } from '$lib/storage/kind';
import { setupText } from '$lib/setup/writeSetup';

const linkTo = (linked: Linked): string => {
  const link = linkText(linked);
  if (!link.ok) throw new Error(link.error);
  return link.value;
};
const why = (link: string): string => {
  const read = readLink(link);
  return read.ok ? 'it was read' : read.error;
};
const e9 = linkTo({ kind: 'setup', text: setupKind.write(builtIn('e9')) });

describe('base64url', () => {
  // RFC 4648, section 10, without the padding
  it.each([
    ['', ''],
    ['f', 'Zg'],
    ['fo', 'Zm8'],
    ['foo', 'Zm9v'],
    ['foob', 'Zm9vYg'],
    ['fooba', 'Zm9vYmE'],
    ['foobar', 'Zm9vYmFy'],
  ])('%j is %j', (plain, coded) => {
    expect(base64url(new TextEncoder().encode(plain))).toBe(coded);
    expect(new TextDecoder().decode(fromBase64url(coded))).toBe(plain);
  });

  it('has - and _ for the last two values (RFC 4648, table 2)', () => {
    expect(base64url(Uint8Array.of(0xfb, 0xff))).toBe('-_8');
    expect([...(fromBase64url('-_8') ?? [])]).toEqual([0xfb, 0xff]);
  });

  it('refuses other letters, and a length that cannot be', () => {
    for (const text of ['Zg==', 'Z+', 'Z/', 'Zm9vY', 'é9'])
      expect(fromBase64url(text)).toBeUndefined();
  });
});

it('CRC-32 of “123456789” is CBF43926 (the check value that the catalogues of CRCs print)', () => {
  expect(crc32('123456789')).toBe(0xcbf43926);
  expect(crc32('')).toBe(0);
});

describe('a link', () => {
  it.each(BUILT_IN_IDS)('carries the whole of %s', (id) => {
    const text = setupKind.write(builtIn(id));
    const read = readLink(linkTo({ kind: 'setup', text }));
    expect(read).toEqual({ ok: true, value: { kind: 'setup', text } });
    const setup = setupKind.read(text);
    expect(setup.ok && setupText(setup.value)).toBe(setupText(builtIn(id)));
  });

  it('of the double neck stays under 2,000 characters, with an address before it', () => {
    const link = linkTo({ kind: 'setup', text: setupKind.write(builtIn('double')) });
    expect(`https://a-rather-long-address.example/gripwright/open/#${link}`.length).toBeLessThan(
      2000,
    );
  });

  it('carries any other text as it is', () => {
    const text = 'C♯m7 | F/C 𝄪 | \u0000 <b>"N.C."</b>\r\n';
    expect(readLink(`${linkTo({ kind: 'progression', text })}`)).toEqual({
      ok: true,
      value: { kind: 'progression', text },
    });
  });

  it('is made of letters that stand in an address as they are', () => {
    expect(e9).toMatch(/^[A-Za-z0-9._-]+$/);
  });

  it('is still read when a program has broken its line', () => {
    expect(readLink(`${e9.slice(0, 70)}\r\n ${e9.slice(70)}\n`).ok).toBe(true);
  });

  it('that is cut short anywhere is refused with a sentence', () => {
    for (let length = 0; length < e9.length; length++) {
      const told = why(e9.slice(0, length));
      expect(told).toMatch(/^This (link|is not a link).*\.$/);
    }
  });

  it('with any one letter changed is refused', () => {
    for (let at = 0; at < e9.length; at++) {
      const letter = e9[at] === 'A' ? 'B' : 'A';
      expect(why(e9.slice(0, at) + letter + e9.slice(at + 1))).not.toBe('it was read');
    }
  });

  it('with something put behind it is refused', () => {
    for (const more of ['.', 'A', '.A', '=', ')', '?x=1'])
      expect(why(e9 + more)).toMatch(/cut short or changed/);
  });

  it.each(['2', '3', '17'])('of the newer format %s says so', (format) => {
    expect(why(`${format}.setup.anything-else`)).toMatch(
      new RegExp(`format ${format}.*newer Gripwright`),
    );
  });

  it.each(['', '#', 'hello', '.', '1', 'setup', 'https://example.com'])('is not %j', (text) => {
    expect(why(text.replace('#', ''))).toMatch(/^This .*\.$/);
  });

  it('that would unpack to 20 megabytes is not unpacked to the end', () => {
    // made with the format's own rules: a right check, and a payload of noughts
    const payload = base64url(deflateSync(new Uint8Array(20_000_000), { level: 9 }));
    const crc = crc32(`1.setup.${payload}`);
    const check = base64url(Uint8Array.of(crc >>> 24, crc >>> 16, crc >>> 8, crc));
    expect(payload.length).toBeLessThan(30_000);
    expect(why(`1.setup.${check}.${payload}`)).toMatch(/unpacks to more/);
  });

  it.each([
    ['bytes that are no deflated text', base64url(Uint8Array.of(255, 255, 255, 255))],
    ['text that is not UTF-8', base64url(deflateSync(Uint8Array.of(0xc3, 0x28)))],
    ['letters that are not base64url', '+/=='],
  ])('with %s is refused, even if its check is right', (_what, payload) => {
    const crc = crc32(`1.setup.${payload}`);
    const check = base64url(Uint8Array.of(crc >>> 24, crc >>> 16, crc >>> 8, crc));
    expect(why(`1.setup.${check}.${payload}`)).toMatch(/cut short or changed/);
  });

  it('to something that this program does not know says so', () => {
    const crc = crc32('1.banjo.');
    const check = base64url(Uint8Array.of(crc >>> 24, crc >>> 16, crc >>> 8, crc));
    expect(why(`1.banjo.${check}.`)).toMatch(/“banjo”/);
  });

  it('is not made of what is too long for one', () => {
    // figures without a pattern that deflating would find
    const text = Array.from({ length: 20_000 }, (_, n) =>
      ((n * 2654435761) >>> 7).toString(36),
    ).join('');
    const link = linkText({ kind: 'progression', text });
    expect(link).toEqual({
      ok: false,
      error: expect.stringContaining('Save it as a file') as string,
    });
  });
});
