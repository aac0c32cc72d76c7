/** What the link in the address carries, read but not kept. */
import { refuse, type Result } from '$lib/result';
import { readLink, type Linked } from '$lib/formats/shareLink';
import { faultText } from '$lib/setup/faultText';
import { readSetupText } from '$lib/setup/readSetup';
import type { Setup } from '$lib/setup/setup';

export type Carried =
  | { readonly kind: 'setup'; readonly setup: Setup }
  | { readonly kind: 'progression'; readonly text: string };

export interface Refused {
  readonly sentence: string;
  readonly faults: readonly string[];
}

function carriedBy({ kind, text }: Linked): Result<Carried, Refused> {
  if (kind === 'progression') return { ok: true, value: { kind, text } };
  const read = readSetupText(text);
  if (read.ok) return { ok: true, value: { kind, setup: read.value } };
  return refuse({
    sentence: 'The link is whole, but the setup in it cannot be used:',
    faults: read.error.slice(0, 20).map(faultText),
  });
}

/** Reads the part of an address from its `#` on. */
export function carriedIn(hash: string): Result<Carried, Refused> {
  const link = readLink(hash.replace(/^#/, ''));
  return link.ok ? carriedBy(link.value) : refuse({ sentence: link.error, faults: [] });
}
