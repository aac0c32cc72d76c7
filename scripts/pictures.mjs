// npm run pictures: every place of the built site in five sizes, light and dark, one sheet a place.
//   -- --site DIR    another built site, as one from before a change (its own `npm run build`)
//   -- --out DIR     where the sheets go; tests/pictures/now where nothing is said
//   -- --only a,b    these places alone
//   -- --single DIR  every picture by itself too, as PNG at its full size
import { mkdirSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { parseArgs } from 'node:util';
import { ensureApp } from './lib/build.mjs';
import { ensureInstalled } from './lib/install.mjs';
import { inRoot } from './lib/root.mjs';
import { say } from './lib/say.mjs';

const { values } = parseArgs({
  options: {
    site: { type: 'string' },
    out: { type: 'string', default: inRoot('tests/pictures/now') },
    only: { type: 'string' },
    single: { type: 'string' },
  },
});

await ensureInstalled();
// packages, which are there only now on a new machine
const { photograph } = await import('./lib/photograph.mjs');
if (values.site === undefined) await ensureApp();

const out = resolve(values.out);
const single = values.single === undefined ? undefined : resolve(values.single);
for (const folder of [out, single])
  if (folder !== undefined) mkdirSync(folder, { recursive: true });

let total = 0;
await photograph(resolve(values.site ?? inRoot('build')), {
  only: values.only?.split(','),
  onpicture: (name, png) => {
    if (single !== undefined) writeFileSync(join(single, `${name}.png`), png);
  },
  onsheet: (name, webp) => {
    writeFileSync(join(out, `${name}.webp`), webp);
    total += webp.length;
    say(`${name}: ${Math.round(webp.length / 1000)} KB`);
  },
});
say(`All sheets together: ${Math.round(total / 1000)} KB, in ${out}`);
