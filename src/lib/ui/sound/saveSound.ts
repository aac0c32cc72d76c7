/** Hands the player a sound as a file. */
import { ok, refuse, type Result } from '$lib/result';
import type { Expression } from '$lib/rendering/actions';
import type { ScheduledNote } from '$lib/playing/schedule';
import { reasonOf } from '$lib/ui/parts/reason';

/** Renders notes and lets the browser save them; the name is without its ending. */
export async function saveSound(
  notes: readonly ScheduledNote[],
  expression: Expression,
  name: string,
): Promise<Result<undefined, string>> {
  let file: Result<Uint8Array<ArrayBuffer>, string>;
  try {
    // fetched only when somebody saves
    const { soundFile } = await import('$lib/sound/soundFile');
    file = await soundFile(notes, expression);
  } catch (error) {
    return refuse(`The sound could not be written: ${reasonOf(error)}.`);
  }
  if (!file.ok) return file;
  const url = URL.createObjectURL(new Blob([file.value], { type: 'audio/wav' }));
  const link = document.createElement('a');
  link.href = url;
  link.download = `${fileName(name)}.wav`;
  link.click();
  // the browser has taken it by the next task
  setTimeout(() => {
    URL.revokeObjectURL(url);
  }, 0);
  return ok(undefined);
}

/** A name that every system takes: plain letters, figures and hyphens. */
export const fileName = (name: string): string =>
  name
    .replaceAll('♯', '#')
    .replaceAll('♭', 'b')
    .replace(/#/g, ' sharp ')
    .replace(/[^A-Za-z0-9]+/g, '-')
    .replace(/^-+|-+$/g, '') || 'sound';
