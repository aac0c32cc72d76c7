/** Files that people open here. */
import { ok, refuse, type Fault, type Result } from '$lib/result';

/** More than any setup or progression can have; what is larger is not read at all. */
export const MOST_FILE_BYTES = 8_000_000;

/** The part of a file that is needed here. */
export type OpenedFile = Pick<File, 'name' | 'size' | 'arrayBuffer'>;

const fault = (found: string, allowed: string): Result<never, readonly Fault[]> =>
  refuse([{ path: '', found, allowed }]);

/** The text of a file. One that is too large is refused by its size, unread. */
export async function textOf(file: OpenedFile): Promise<Result<string, readonly Fault[]>> {
  if (file.size > MOST_FILE_BYTES)
    return fault(
      `${Math.round(file.size / 1e6)} megabytes`,
      `a file of at most ${MOST_FILE_BYTES / 1e6} megabytes`,
    );
  let bytes: ArrayBuffer;
  try {
    bytes = await file.arrayBuffer();
  } catch {
    return fault('something that cannot be read', 'a file that this browser may read');
  }
  try {
    // fatal: a wrong byte must not turn into a wrong name
    return ok(new TextDecoder('utf-8', { fatal: true }).decode(bytes));
  } catch {
    return fault('bytes that are not text in UTF-8', 'a text file in UTF-8');
  }
}
