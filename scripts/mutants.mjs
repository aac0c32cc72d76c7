// npm run check:mutants -- src/lib/theory/numeral.ts …: changes the files named at one place after the other and
// says which changes no test notices. The tests are those of the files' folders in tests/unit.
//   -- --tests tests/unit/theory/names.test.ts,…  others
import { existsSync, mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { ensureInstalled } from './lib/install.mjs';
import { inRoot } from './lib/root.mjs';
import { npm, run, tool } from './lib/run.mjs';
import { giveUp, say } from './lib/say.mjs';

/** What brings the changes. It is fetched where it is wanted first: nobody else has to install 145 packages for it. */
const VERSION = '9.6.1';
const HOME = 'test-results/mutants-program';

const { values, positionals } = parseArgs({
  allowPositionals: true,
  options: { tests: { type: 'string' } },
});
if (positionals.length === 0) {
  giveUp('Name the files to be changed: npm run check:mutants -- src/lib/theory/numeral.ts');
}
for (const file of positionals) {
  if (!existsSync(inRoot(file))) giveUp(`There is no file ${file}.`);
}
const folders = new Set(positionals.map((file) => file.split('/')[2]));
const tests = values.tests ?? [...folders].map((each) => `tests/unit/${each}/**/*.test.ts`).join();

await ensureInstalled();
if (!existsSync(inRoot('.svelte-kit/tsconfig.json')))
  await tool('@sveltejs/kit', ['sync'], { quiet: true });
const program = inRoot(HOME, 'node_modules/@stryker-mutator/core/bin/stryker.js');
if (!existsSync(program)) {
  say(`Installing Stryker ${VERSION} into ${HOME}.`);
  mkdirSync(inRoot(HOME), { recursive: true });
  const packages = ['core', 'vitest-runner'].map((each) => `@stryker-mutator/${each}@${VERSION}`);
  // the test runner is the project's own, which lies further up
  const how = ['--no-save', '--legacy-peer-deps', '--no-audit', '--no-fund', '--loglevel=error'];
  const code = await npm(['install', '--prefix', inRoot(HOME), ...how, ...packages], {
    onStderr: true,
  });
  if (code !== 0) giveUp('It could not be installed; the lines above say why.');
}
process.exitCode = await run(
  process.execPath,
  [program, 'run', join('scripts', 'mutants.json'), '--mutate', positionals.join()],
  { env: { GRIPWRIGHT_TESTS: tests } },
);
