/** What the link in the address carries, read but not saved. */
import { ok, refuse, type Result } from '$lib/result';
import { readLink, type Linked } from '$lib/formats/shareLink';
import { faultText, type DocumentFault } from '$lib/faults';
import { readSetupText } from '$lib/setup/readSetup';
import type { Setup } from '$lib/setup/setup';
import { progressionKind, type StoredProgression } from '$lib/storage/progressionKind';

export type LinkContent =
  | { readonly kind: 'setup'; readonly setup: Setup }
  | { readonly kind: 'progression'; readonly progression: StoredProgression };

export interface Refused {
  readonly sentence: string;
  readonly faults: readonly string[];
}

function contentOf({ kind, text }: Linked): Result<LinkContent, Refused> {
  const refused = (faults: readonly DocumentFault[]): Result<LinkContent, Refused> =>
    refuse({
      sentence: `The link is whole, but the ${kind} in it cannot be used:`,
      faults: faults.slice(0, 20).map(faultText),
    });
  if (kind === 'progression') {
    const read = progressionKind.read(text);
    return read.ok ? ok({ kind, progression: read.value }) : refused(read.error);
  }
  const read = readSetupText(text);
  return read.ok ? ok({ kind, setup: read.value }) : refused(read.error);
}

/** Reads the part of an address from its `#` on. */
export function linkContentIn(hash: string): Result<LinkContent, Refused> {
  const link = readLink(hash.replace(/^#/, ''));
  return link.ok ? contentOf(link.value) : refuse({ sentence: link.error, faults: [] });
}
