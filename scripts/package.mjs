// npm pack calls this first: all that goes into the package is built anew, so that nothing of an earlier
// build is left in it.
import { rmSync } from 'node:fs';
import { ensureInstalled } from './lib/install.mjs';
import { inRoot } from './lib/root.mjs';
import { npm } from './lib/run.mjs';
import { giveUp } from './lib/say.mjs';

await ensureInstalled();
for (const folder of ['dist/chunks', 'dist/library'])
  rmSync(inRoot(folder), { recursive: true, force: true });
for (const script of ['build:cli', 'build:library'])
  if ((await npm(['run', '--silent', script], { quiet: true })) !== 0)
    giveUp(`${script} failed; the lines above say why.`);
