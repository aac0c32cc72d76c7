import { existsSync, readdirSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { inRoot } from './root.mjs';

/**
 * Whether a built file is there and none of its sources was touched after it was built.
 * Folders count too: removing a file touches the folder it was in.
 *
 * @param {string} built path inside the project
 * @param {readonly string[]} sources paths inside the project
 */
export function isFresh(built, sources) {
  const file = inRoot(built);
  if (!existsSync(file)) return false;
  const builtAt = statSync(file).mtimeMs;
  return sources.every((source) => lastTouched(inRoot(source)) <= builtAt);
}

/** @param {string} path @returns {number} */
function lastTouched(path) {
  if (!existsSync(path)) return 0;
  const here = statSync(path);
  if (!here.isDirectory()) return here.mtimeMs;
  return Math.max(here.mtimeMs, ...readdirSync(path).map((name) => lastTouched(join(path, name))));
}
