/** Hands the player a sound as a file. */
import { ok, type Result } from '$lib/result';
import type { Expression } from '$lib/sound/actions';
import type { ScheduledNote } from '$lib/playing/schedule';

/** Renders notes and lets the browser save them; the name is without its ending. */
export async function saveSound(
  notes: readonly ScheduledNote[],
  expression: Expression,
  name: string,
): Promise<Result<undefined, string>> {
  // fetched only when somebody saves
  const { soundFile } = await import('$lib/sound/soundFile');
  const file = await soundFile(notes, expression);
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
