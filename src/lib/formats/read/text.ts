/** Bytes as text. */
import { fault } from '$lib/documentFaults';
import type { DocumentFault } from '$lib/faults';
import { ok, refuse, type Result } from '$lib/result';

/** UTF-8, or UTF-16 where the file says so by its first two bytes; anything else is refused. */
export function textFrom(bytes: Uint8Array): Result<string, DocumentFault> {
  const [first, second] = bytes;
  const coding =
    first === 0xff && second === 0xfe
      ? 'utf-16le'
      : first === 0xfe && second === 0xff
        ? 'utf-16be'
        : 'utf-8';
  try {
    return ok(new TextDecoder(coding, { fatal: true }).decode(bytes));
  } catch {
    return refuse(fault('file.notUtf8', ''));
  }
}
