import { createHash } from 'node:crypto';
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { inRoot } from './root.mjs';
import { npm } from './run.mjs';
import { giveUp, say } from './say.mjs';

const LEAST_NODE = 20;
const lock = inRoot('package-lock.json');
const stamp = inRoot('node_modules', '.gripwright-lock');
const npmRecord = inRoot('node_modules', '.package-lock.json');

/** Installs the packages of package-lock.json, unless just those are installed already. */
export async function ensureInstalled() {
  const node = process.versions.node;
  if (Number.parseInt(node, 10) < LEAST_NODE) {
    giveUp(`Gripwright needs Node ${LEAST_NODE} or newer, and this is Node ${node}.`);
  }
  const wanted = createHash('sha256').update(readFileSync(lock)).digest('hex');
  if (existsSync(stamp) && readFileSync(stamp, 'utf8') === wanted) return;
  if (!npmRecordAgrees()) {
    say('Installing the packages named in package-lock.json; this takes about half a minute.');
    const code = await npm(['ci', '--no-progress', '--loglevel=error'], { onStderr: true });
    if (code !== 0) giveUp('The packages could not be installed; the lines above say why.');
  }
  writeFileSync(stamp, wanted);
}

/**
 * Whether npm's own record of what it installed says the same as package-lock.json. It does after
 * a plain `npm ci` or `npm install` by hand, and then nothing need be installed again.
 */
function npmRecordAgrees() {
  if (!existsSync(npmRecord)) return false;
  const installed = packagesIn(npmRecord);
  const wanted = Object.entries(packagesIn(lock)).filter(([place]) => place !== '');
  return wanted.every(([place, { version, optional }]) => {
    const there = installed[place];
    // Packages for other systems are optional and rightly missing.
    return there ? there.version === version : optional === true;
  });
}

/** @param {string} file @returns {Record<string, { version?: string, optional?: boolean }>} */
function packagesIn(file) {
  return JSON.parse(readFileSync(file, 'utf8')).packages;
}
