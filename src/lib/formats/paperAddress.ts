/** The address that a code on paper points to: where the program is found, read and checked. */
import { ok, refuse, type Result } from '$lib/result';

/** What is allowed, as the end of a sentence. */
const AN_ADDRESS =
  'an address that begins with http:// or https://, such as https://example.org/steel/';
/** A longer one leaves no room for what the link carries. */
const MOST_CHARACTERS = 200;

const ADDRESS = /^(https?):\/\/([^\s/?#@]+)(\/[^\s?#]*)?$/iu;
const HOST = /^(\[[0-9a-f:.]+\]|[\p{L}\p{N}.-]+)(:\d{1,5})?$/iu;

/** Reads an address; it ends in a slash, for places of the program are put behind it. */
export function readPaperAddress(text: string): Result<string, string> {
  const written = text.trim();
  const [, scheme = '', host = '', path = '/'] = ADDRESS.exec(written) ?? [];
  if (written.length > MOST_CHARACTERS || !HOST.test(host))
    return refuse(`found “${written.slice(0, MOST_CHARACTERS)}”; allowed is ${AN_ADDRESS}.`);
  return ok(
    `${scheme.toLowerCase()}://${host.toLowerCase()}${path.endsWith('/') ? path : `${path}/`}`,
  );
}

/** Hosts that every device takes for itself (RFC 6761, RFC 1122, RFC 4291), and names within one house. */
const OWN_HOST = /^(localhost|[^:]*\.localhost|127(\.\d+){3}|0\.0\.0\.0|\[::1?\])(:\d+)?$/i;

/** Is an address one that only the machine itself reaches? */
export function isThisMachine(address: string): boolean {
  const [, , host = ''] = ADDRESS.exec(address) ?? [];
  return !/^https?:/i.test(address) || OWN_HOST.test(host);
}

/** Where the terminal's sheets point if nothing else is said: the program as `npm start` serves it. */
export const OWN_ADDRESS = 'http://localhost:4310/';

/** The address that opens what a link carries. */
export const openAddress = (address: string, link: string): string => `${address}open/#${link}`;
