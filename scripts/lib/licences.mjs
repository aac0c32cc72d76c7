// Which packages reach a player's device, under which licence, and the words that go with it.
import { existsSync, readFileSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import { inRoot } from './root.mjs';

/** Licences under which a package may be used here: each lets the program be given away freely. */
export const ALLOWED = [
  'MIT',
  'ISC',
  '0BSD',
  'BSD-2-Clause',
  'BSD-3-Clause',
  'Apache-2.0',
  'BlueOak-1.0.0',
  // file by file, and none of its files is changed or shipped
  'MPL-2.0',
  // fonts
  'OFL-1.1',
  // of a tool that writes documentation, and never shipped; as free as the first
  'Python-2.0',
];

/**
 * What becomes part of what is built: the site, the command line and the library carry all that they need,
 * so that whoever installs the package installs nothing besides. What these lean on comes with them.
 */
const BUILT_IN = [
  '@fontsource-variable/atkinson-hyperlegible-next',
  '@fontsource/atkinson-hyperlegible-next',
  'abcjs',
  'commander',
  'fflate',
  'idb',
  'midi-file',
  'ml-matrix',
  'papaparse',
  'saxes',
  'tonal',
  'tone',
  'ts-fsrs',
  'uqr',
  'valibot',
];
/** Of these little more than a run time is left in what is built, and not what they lean on. */
const BUILDERS = ['svelte', '@sveltejs/kit', 'clsx', 'esm-env', 'devalue'];

/**
 * Every package of the lock file.
 *
 * @returns {{ name: string, version: string, licence: string, shipped: boolean, folder: string }[]}
 */
export function packages() {
  const lock = JSON.parse(readFileSync(inRoot('package-lock.json'), 'utf8'));
  const shippedFolders = new Set(BUILDERS.map((name) => `node_modules/${name}`));
  for (const name of BUILT_IN) addWithNeeded(`node_modules/${name}`);

  /** @param {string} folder */
  function addWithNeeded(folder) {
    if (shippedFolders.has(folder)) return;
    if (lock.packages[folder] === undefined) throw new Error(`${folder} is not in the lock file`);
    shippedFolders.add(folder);
    for (const name of Object.keys(lock.packages[folder].dependencies ?? {})) {
      const own = `${folder}/node_modules/${name}`;
      addWithNeeded(lock.packages[own] === undefined ? `node_modules/${name}` : own);
    }
  }

  return Object.entries(lock.packages)
    .filter(([folder]) => folder !== '')
    .map(([folder, { version, license }]) => {
      const name = folder.slice(folder.lastIndexOf('node_modules/') + 'node_modules/'.length);
      const shipped = shippedFolders.has(folder);
      return { name, version, licence: license ?? 'none told', shipped, folder };
    })
    .sort((a, b) => (a.name < b.name ? -1 : a.name > b.name ? 1 : 0));
}

/** The text that goes with the built program. */
export function licencesText() {
  const shipped = packages().filter((each) => each.shipped && existsSync(inRoot(each.folder)));
  const parts = shipped.map(({ name, version, licence, folder }) => {
    const own = readdirSync(inRoot(folder)).find((file) => /^licen[cs]e/iu.test(file));
    const words =
      own === undefined ? '' : `\n\n${readFileSync(join(inRoot(folder), own), 'utf8').trim()}`;
    return `${name} ${version}: ${licence}${words}`;
  });
  const ours = readFileSync(inRoot('LICENSE'), 'utf8').trim();
  return `${[`Gripwright: MIT\n\n${ours}`, ...parts].join(`\n\n${'-'.repeat(72)}\n\n`)}\n`;
}
