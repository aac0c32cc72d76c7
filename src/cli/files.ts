/** The files that jobs read and write; what cannot be is a refusal with the reason in words. */
import { readFileSync, statSync, writeFileSync } from 'node:fs';
import { MOST_FILE_BYTES } from '$lib/setup/readSetup';
import { Refusal } from './out';

const READING: Readonly<Record<string, string>> = {
  ENOENT: 'there is no such file',
  EISDIR: 'it is a folder',
};
const WRITING: Readonly<Record<string, string>> = {
  ENOENT: 'there is no such folder',
  EISDIR: 'it is a folder',
  EACCES: 'it may not be written there',
};

/** Does something with a file; what the machine says against it is told in words. */
function withFile<T>(
  path: string,
  done: 'read' | 'written',
  reasons: Readonly<Record<string, string>>,
  act: () => T,
): T {
  try {
    return act();
  } catch (error) {
    if (error instanceof Refusal) throw error;
    const code = (error as NodeJS.ErrnoException).code;
    const reason = reasons[code ?? ''] ?? `it cannot be ${done} (${code ?? String(error)})`;
    throw new Refusal(`${path}: ${reason}.`, 1);
  }
}

/** How many bytes a file has. */
export const sizeOf = (path: string): number =>
  withFile(path, 'read', READING, () => statSync(path).size);

/** What a file holds. */
export const bytesOf = (path: string): Uint8Array =>
  withFile(path, 'read', READING, () => readFileSync(path));

/** The text of a file of the size that a setup may have. */
export function readFileText(path: string): string {
  const bytes = withFile(path, 'read', { ...READING, EACCES: 'it may not be read' }, () => {
    // too large to be a setup: not read at all
    const { size } = statSync(path);
    if (size > MOST_FILE_BYTES)
      throw new Refusal(
        `${path}: it has ${Math.round(size / 1e6)} megabytes; a setup file has at most ${MOST_FILE_BYTES / 1e6}.`,
        1,
      );
    return readFileSync(path);
  });
  try {
    // fatal: a setup is text, and a wrong byte must not turn into a wrong name
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    throw new Refusal(`${path}: it is not text in UTF-8.`, 1);
  }
}

/** Writes a file, over one that is there already. */
export const writeOut = (path: string, bytes: Uint8Array): void => {
  withFile(path, 'written', WRITING, () => {
    writeFileSync(path, bytes);
  });
};
