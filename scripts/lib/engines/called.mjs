import { existsSync } from 'node:fs';
import { delimiter, join } from 'node:path';

/** Where the first of these programs is in the system. @param {...string} names @returns {string | undefined} */
export function called(...names) {
  const folders = (process.env.PATH ?? '').split(delimiter);
  return names.flatMap((name) => folders.map((folder) => join(folder, name))).find(existsSync);
}
