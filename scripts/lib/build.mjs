import { existsSync, mkdirSync, readdirSync, renameSync, rmSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { isFresh } from './fresh.mjs';
import { inRoot } from './root.mjs';
import { tool } from './run.mjs';
import { giveUp, say } from './say.mjs';

const APP_SOURCES = [
  'src',
  'static',
  'shared',
  'package.json',
  'package-lock.json',
  'svelte.config.js',
  'vite.config.ts',
];

/** What each bundle for Node is made from; the names are those scripts/vite.cli.config.ts knows. */
const BUNDLES = {
  gripwright: { entry: 'src/cli/main.ts', sources: ['src/cli'] },
  bench: { entry: 'tests/bench/main.ts', sources: ['src/cli', 'tests/bench'] },
};
const BUNDLE_SOURCES = ['src/lib', 'shared', 'scripts/vite.cli.config.ts', 'package-lock.json'];

/** Builds the site into build/, unless it is newer than everything it is made from. */
export async function ensureApp() {
  if (isFresh('build/index.html', APP_SOURCES)) {
    say('The site in build/ is newer than its sources, so it is used as it is.');
    return;
  }
  say('Building the site into build/.');
  const code = await tool('vite', ['build', '--logLevel', 'warn'], { quiet: true });
  if (code !== 0) giveUp('The site could not be built; the lines above say why.');
}

/**
 * Builds a bundle for Node into dist/, unless it is newer than everything it is made from, and
 * gives its path. Nothing is printed on standard output.
 *
 * @param {keyof typeof BUNDLES} name
 */
export async function ensureBundle(name) {
  const { entry, sources } = BUNDLES[name];
  const bundle = `dist/${name}.mjs`;
  if (!existsSync(inRoot(entry))) giveUp(`${entry} is missing, so ${bundle} cannot be built.`);
  if (isFresh(bundle, [...sources, ...BUNDLE_SOURCES])) return inRoot(bundle);

  say(`Building ${bundle}.`);
  // tsconfig.json leans on a file that SvelteKit writes; on a new checkout it is not there yet.
  if (!existsSync(inRoot('.svelte-kit/tsconfig.json'))) {
    await tool('@sveltejs/kit', ['sync'], { quiet: true });
  }
  // Built aside and moved over, so that a run at the same time never reads half a bundle.
  const aside = `dist/.${name}-${process.pid}`;
  const args = [
    'build',
    '--config',
    'scripts/vite.cli.config.ts',
    '--mode',
    name,
    '--outDir',
    aside,
  ];
  const code = await tool('vite', args, { quiet: true });
  if (code === 0) moveOver(inRoot(aside), inRoot('dist'), `${name}.mjs`);
  rmSync(inRoot(aside), { recursive: true, force: true });
  if (code !== 0) giveUp(`${bundle} could not be built; the lines above say why.`);
  return inRoot(bundle);
}

/**
 * Moves built files to their place, the entry last: whoever finds it finds all it imports.
 * @param {string} from @param {string} to @param {string} entry
 */
function moveOver(from, to, entry) {
  const files = readdirSync(from, { recursive: true, withFileTypes: true })
    .filter((file) => file.isFile())
    .map((file) => join(file.parentPath, file.name).slice(from.length + 1));
  for (const file of [...files.filter((name) => name !== entry), entry]) {
    mkdirSync(dirname(join(to, file)), { recursive: true });
    renameSync(join(from, file), join(to, file));
  }
}
