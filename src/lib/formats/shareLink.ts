/**
 * A link that carries a whole document behind its `#`, where no server ever sees it:
 * `#1.setup.CHECK.PAYLOAD`. 1 is the format of the link, then comes the kind of the document, a
 * CRC-32 of all the rest, and the text in UTF-8, deflated (RFC 1951), both in base64url.
 */
import { deflateSync, inflateSync } from 'fflate';
import { guarded } from '$lib/documentFaults';
import { ok, refuse, type Result } from '$lib/result';
import { base64url, fromBase64url } from './base64url';
import { crc32 } from './crc32';

const LINK_FORMAT = 1;
const LINK_KINDS = ['setup', 'progression'] as const;
export type LinkKind = (typeof LINK_KINDS)[number];

export interface Linked {
  readonly kind: LinkKind;
  readonly text: string;
}

/** Longer ones are cut by what they are sent with; such a document travels as a file. */
const LONGEST = 30_000;
/** No more than that is unpacked, whatever a link claims to hold. */
const MOST_BYTES = 1_000_000;

const checkOf = (kind: string, payload: string): string => {
  const crc = crc32(`${LINK_FORMAT}.${kind}.${payload}`);
  return base64url(Uint8Array.of(crc >>> 24, crc >>> 16, crc >>> 8, crc));
};

/** What stands behind the `#`, without it. */
export function linkText({ kind, text }: Linked): Result<string, string> {
  const bytes = new TextEncoder().encode(text);
  const payload = base64url(deflateSync(bytes, { level: 9 }));
  const link = `${LINK_FORMAT}.${kind}.${checkOf(kind, payload)}.${payload}`;
  return link.length > LONGEST || bytes.length > MOST_BYTES
    ? refuse('This is too long for a link. Save it as a file and send that.')
    : ok(link);
}

const DAMAGED = 'This link was cut short or changed on its way. Ask for it again, whole.';

/** What a link carries, from the part behind its `#`. */
export const readLink = (behind: string): Result<Linked, string> =>
  guarded(
    'a link',
    () => DAMAGED,
    () => linkIn(behind),
  );

function linkIn(behind: string): Result<Linked, string> {
  // programs that break lines put white space in
  const link = behind.replace(/\s|%20|%0[AD]/gi, '');
  if (link === '') return refuse('This link carries nothing: the part behind its # is missing.');
  if (link.length > LONGEST) return refuse('This link is longer than any that Gripwright makes.');
  const format = /^(\d+)\./.exec(link)?.[1];
  if (format === undefined)
    return refuse('This is not a link of Gripwright, or its beginning is missing.');
  if (Number(format) > LINK_FORMAT)
    return refuse(
      `This link has format ${format}, and this Gripwright reads links up to format ${LINK_FORMAT}. A newer Gripwright opens it.`,
    );
  const [, kind = '', check = '', payload = '', ...more] = link.split('.');
  if (more.length > 0 || Number(format) !== LINK_FORMAT || check !== checkOf(kind, payload))
    return refuse(DAMAGED);
  if (!(LINK_KINDS as readonly string[]).includes(kind))
    return refuse(`This link carries a “${kind}”, which this Gripwright does not know.`);
  const text = unpacked(payload);
  return text.ok ? ok({ kind: kind as LinkKind, text: text.value }) : text;
}

function unpacked(payload: string): Result<string, string> {
  const packed = fromBase64url(payload);
  if (packed === undefined) return refuse(DAMAGED);
  try {
    // the inflater stops at the end of this room
    const bytes = inflateSync(packed, { out: new Uint8Array(MOST_BYTES + 1) });
    if (bytes.length > MOST_BYTES)
      return refuse('This link unpacks to more than any document of Gripwright holds.');
    return ok(new TextDecoder('utf-8', { fatal: true }).decode(bytes));
  } catch {
    return refuse(DAMAGED);
  }
}
