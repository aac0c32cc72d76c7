// npm run bench: weighs the script of the first page and measures the searches.
import { ensureApp, ensureBundle } from './lib/build.mjs';
import { BUDGET_BYTES, firstLoad, firstLoadTable } from './lib/firstLoad.mjs';
import { ensureInstalled } from './lib/install.mjs';
import { inRoot } from './lib/root.mjs';
import { run } from './lib/run.mjs';
import { say } from './lib/say.mjs';

await ensureInstalled();
await ensureApp();
const load = firstLoad(inRoot('build'));
console.log(`${firstLoadTable(load).join('\n')}\n`);

const bundle = await ensureBundle('bench');
const code = await run(process.execPath, [bundle, ...process.argv.slice(2)]);
const tooHeavy = load.total > BUDGET_BYTES;
if (tooHeavy) say('The script of the first page is heavier than its budget.');
process.exitCode = code !== 0 ? code : tooHeavy ? 1 : 0;
