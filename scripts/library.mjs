// npm run build:library: the engine as one module of plain JavaScript and its types, in dist/library/.
// `npm run build:library -- --no-types` leaves out the types, which take most of the time.
import { rmSync } from 'node:fs';
import { ensureInstalled } from './lib/install.mjs';
import { inRoot } from './lib/root.mjs';
import { tool } from './lib/run.mjs';
import { giveUp } from './lib/say.mjs';

const TYPES = 'dist/library/gripwright.d.ts';

await ensureInstalled();
await tool('@sveltejs/kit', ['sync'], { quiet: true });
const built = await tool(
  'vite',
  ['build', '--config', 'scripts/vite.library.config.ts', '--logLevel', 'warn'],
  { quiet: true },
);
if (built !== 0) giveUp('The library could not be built; the lines above say why.');
if (!process.argv.includes('--no-types')) {
  rmSync(inRoot(TYPES), { force: true });
  // what is public is what src/library.ts names; the types behind it stand in the file, unnamed outside
  const args = ['--no-check', '--silent', '--export-referenced-types=false', '-o', TYPES];
  const typed = await tool('dts-bundle-generator', [...args, 'src/library.ts'], { quiet: true });
  if (typed !== 0)
    giveUp('The types of the library could not be written; the lines above say why.');
}
