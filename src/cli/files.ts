/** The files that jobs read and write; what cannot be is a refusal with the reason in words. */
import {
  accessSync,
  closeSync,
  constants,
  fsyncSync,
  openSync,
  readFileSync,
  realpathSync,
  renameSync,
  rmSync,
  statSync,
  writeFileSync,
} from 'node:fs';
import { basename, dirname, join, resolve } from 'node:path';
import type { FileToRead } from '$lib/formats/progressionFiles';
import { MOST_FILE_BYTES } from '$lib/setup/readSetup';
import { askAtTerminal } from './ask';
import { Refusal } from './out';
import { terminal } from './terminal';

const READING: Readonly<Record<string, string>> = {
  ENOENT: 'there is no such file',
  EISDIR: 'it is a folder',
};
const WRITING: Readonly<Record<string, string>> = {
  ENOENT: 'there is no such folder',
  EISDIR: 'it is a folder',
  EACCES: 'it may not be written there',
  ENOSPC: 'the disk is full',
  EDQUOT: 'the disk is full',
  EROFS: 'it may not be written there',
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

/** Paths are meant from the caller's folder. */
const at = (path: string): string => resolve(terminal().folder, path);

/** How many bytes a file has. */
export const sizeOf = (path: string): number =>
  withFile(path, 'read', READING, () => statSync(at(path)).size);

/** What a file holds. */
export const bytesOf = (path: string): Uint8Array =>
  withFile(path, 'read', READING, () => readFileSync(at(path)));

/** A file for the readers of the program: its bytes are read when its name and size are in order. */
export const fileToRead = (path: string): FileToRead => ({
  name: path,
  size: sizeOf(path),
  bytes: () => bytesOf(path),
});

/** What is piped in, of at most so many bytes. */
export function stdinBytes(most: number): Uint8Array {
  const bytes = withFile('-', 'read', READING, () => readFileSync(process.stdin.fd));
  if (bytes.length > most)
    throw new Refusal(`-: more was piped in than ${most / 1e6} megabytes.`, 1);
  return bytes;
}

/** The text of a file of the size that a setup may have. */
export function readFileText(path: string): string {
  const bytes = withFile(path, 'read', { ...READING, EACCES: 'it may not be read' }, () => {
    // too large to be a setup: not read at all
    const { size } = statSync(at(path));
    if (size > MOST_FILE_BYTES)
      throw new Refusal(
        `${path}: it has ${Math.round(size / 1e6)} megabytes; a setup file has at most ${MOST_FILE_BYTES / 1e6}.`,
        1,
      );
    return readFileSync(at(path));
  });
  try {
    // fatal: a setup is text, and a wrong byte must not turn into a wrong name
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    throw new Refusal(`${path}: it is not text in UTF-8.`, 1);
  }
}

/** The text of a file of the program's own; `undefined` where there is none. */
export function existsText(path: string): string | undefined {
  const there = at(path);
  return withFile(path, 'read', READING, () =>
    statSync(there, { throwIfNoEntry: false }) === undefined
      ? undefined
      : readFileSync(there, 'utf8'),
  );
}

/** Puts a text in the place of a file of the program's own, whole or not at all. */
export function replaceFile(path: string, text: string): void {
  withFile(path, 'written', WRITING, () => {
    replace(at(path), new TextEncoder().encode(text));
  });
}

/** Writes beside the file and puts it in its place when it is whole on the disk. */
function replace(path: string, bytes: Uint8Array, mode?: number): void {
  const beside = join(dirname(path), `.${basename(path)}.${process.pid}.part`);
  let file: number | undefined;
  try {
    file = openSync(beside, 'wx', mode);
    writeFileSync(file, bytes);
    fsyncSync(file);
    closeSync(file);
    file = undefined;
    renameSync(beside, path);
  } catch (error) {
    if (file !== undefined) closeSync(file);
    rmSync(beside, { force: true });
    throw error;
  }
}

/**
 * Writes a file, whole or not at all: one that is there stays as it is until the new one is on the disk.
 * At a terminal the player is asked before one is overwritten.
 */
export async function writeOut(
  path: string,
  bytes: Uint8Array,
  ask: (question: string) => Promise<boolean> = askAtTerminal,
): Promise<void> {
  const there = at(path);
  const present = withFile(path, 'written', WRITING, () =>
    statSync(there, { throwIfNoEntry: false }),
  );
  if (present?.isFile() && !(await ask(`${path} is there already. Overwrite it? (y/N) `)))
    throw new Refusal(`${path}: it is there already, and stays as it is.`, 1);
  withFile(path, 'written', WRITING, () => {
    // a pipe or a device takes what is written to it; a folder refuses
    if (present !== undefined && !present.isFile()) writeFileSync(there, bytes);
    else if (present === undefined) replace(there, bytes);
    else {
      // what may not be written is not to be replaced; a link goes on leading to its file
      accessSync(there, constants.W_OK);
      replace(realpathSync(there), bytes, present.mode);
    }
  });
}
