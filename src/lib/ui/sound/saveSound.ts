/** Hands the player a sound as a file. */
import { ok, refuse, type Result } from '$lib/result';
import type { Rendering } from '$lib/rendering/renderSound';
import type { ScheduledNote } from '$lib/playing/schedule';
import { fileNameOf, saveFile } from '$lib/ui/paper/saving';
import { reasonOf } from '$lib/ui/parts/reason';

/** Renders notes, and a band where one plays along, and lets the browser save them; the name is without its ending. */
export async function saveSound(
  notes: readonly ScheduledNote[],
  how: Rendering,
  name: string,
): Promise<Result<undefined, string>> {
  let file: Result<Uint8Array<ArrayBuffer>, string>;
  try {
    // fetched only when somebody saves
    const { soundFile } = await import('$lib/sound/soundFile');
    file = await soundFile(notes, how);
  } catch (error) {
    return refuse(`The sound could not be written: ${reasonOf(error)}.`);
  }
  if (!file.ok) return file;
  saveFile(fileNameOf(name, 'wav'), 'audio/wav', file.value);
  return ok(undefined);
}
