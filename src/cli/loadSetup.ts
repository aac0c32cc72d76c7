/** `--setup`: the id of a built-in setup, or the path of a file. */
import { readFileSync, statSync } from 'node:fs';
import { BUILT_IN_IDS, builtIn, isBuiltInId } from '$lib/setup/builtIns';
import { faultText } from '$lib/faults';
import { MOST_FILE_BYTES, readSetupText } from '$lib/setup/readSetup';
import type { Setup } from '$lib/setup/setup';
import { Refusal } from './out';

/** The text of a file; one that cannot be read is a refusal with the reason in words. */
export function readFileText(path: string): string {
  try {
    // too large to be a setup: not read at all
    const { size } = statSync(path);
    if (size > MOST_FILE_BYTES)
      throw new Refusal(
        `${path}: it has ${Math.round(size / 1e6)} megabytes; a setup file has at most ${MOST_FILE_BYTES / 1e6}.`,
        1,
      );
    // fatal: a setup is text, and a wrong byte must not turn into a wrong name
    return new TextDecoder('utf-8', { fatal: true }).decode(readFileSync(path));
  } catch (error) {
    if (error instanceof Refusal) throw error;
    const code = (error as NodeJS.ErrnoException).code;
    const reason =
      code === 'ENOENT'
        ? 'there is no such file'
        : code === 'EISDIR'
          ? 'it is a folder'
          : code === 'EACCES'
            ? 'it may not be read'
            : error instanceof TypeError
              ? 'it is not text in UTF-8'
              : `it cannot be read (${code ?? String(error)})`;
    throw new Refusal(`${path}: ${reason}.`, 1);
  }
}

export function loadSetup(idOrPath: string): Setup {
  if (isBuiltInId(idOrPath)) return builtIn(idOrPath);
  if (!/[./\\]/.test(idOrPath))
    throw new Refusal(
      `There is no built-in setup “${idOrPath}”; there are ${BUILT_IN_IDS.join(', ')}. A file is named with its ending, such as mine.json.`,
      1,
    );
  const read = readSetupText(readFileText(idOrPath));
  if (!read.ok)
    throw new Refusal(
      [
        `${idOrPath} is not a setup that can be used:`,
        ...read.error.map((f) => `  ${faultText(f)}`),
      ],
      1,
    );
  return read.value;
}
