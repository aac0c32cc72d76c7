/** Whole answers and drawings that people can read, kept in `tests/golden/`. */
import { rmSync, writeFileSync } from 'node:fs';
import { expect } from 'vitest';
import { inRoot } from '../scripts/lib/root.mjs';

/**
 * Compares a text with the golden file of that name. One that differs is written beside it, as
 * `NAME.new.txt`, to be looked at; `npx vitest run FILE -u` takes it as the new one.
 */
export async function golden(text: string, name: string): Promise<void> {
  const file = inRoot('tests/golden', name);
  const changed = file.replace(/(?=\.\w+$)/u, '.new');
  rmSync(changed, { force: true });
  try {
    await expect(text).toMatchFileSnapshot(file);
  } catch (error) {
    writeFileSync(changed, text);
    if (error instanceof Error)
      error.message += `\nWhat came instead stands beside it: ${changed.slice(inRoot().length)}`;
    throw error;
  }
}
