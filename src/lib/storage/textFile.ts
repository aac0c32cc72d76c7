/** Files that people open here. */
import { fault } from '$lib/documentFaults';
import type { DocumentFault } from '$lib/faults';
import { ok, refuse, type Result } from '$lib/result';
import { MOST_FILE_BYTES } from '$lib/setup/readSetup';

/** The part of a file that is needed here. */
export type OpenedFile = Pick<File, 'name' | 'size' | 'arrayBuffer'>;

/** The text of a file. One that is too large is refused by its size, unread. */
export async function textOf(
  file: OpenedFile,
  most = MOST_FILE_BYTES,
): Promise<Result<string, readonly DocumentFault[]>> {
  if (file.size > most) return refuse([fault('file.tooLarge', '', file.size, most)]);
  let bytes: ArrayBuffer;
  try {
    bytes = await file.arrayBuffer();
  } catch {
    return refuse([fault('file.unreadable', '')]);
  }
  try {
    // fatal: a wrong byte must not turn into a wrong name
    return ok(new TextDecoder('utf-8', { fatal: true }).decode(bytes));
  } catch {
    return refuse([fault('file.notUtf8', '')]);
  }
}
