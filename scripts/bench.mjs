// npm run bench: weighs the script of the first page and measures the searches; with names of parts
// (npm run bench -- scales), these parts of the searches alone.
import { ensureApp, ensureBundle } from './lib/build.mjs';
import { findChromium } from './lib/chromium.mjs';
import { BUDGET_BYTES, firstLoad, firstLoadTable } from './lib/firstLoad.mjs';
import { ensureInstalled } from './lib/install.mjs';
import { inRoot } from './lib/root.mjs';
import { run } from './lib/run.mjs';
import { say } from './lib/say.mjs';

await ensureInstalled();
const parts = process.argv.slice(2);
if (parts.length > 0)
  process.exit(await run(process.execPath, [await ensureBundle('bench'), ...parts]));
// packages, which are there only now on a new machine
const { atlasFrames, typedToPainted } = await import('./lib/pageSpeed.mjs');
const { keyToSound } = await import('./lib/soundSpeed.mjs');
await ensureApp();
const load = firstLoad(inRoot('build'));
console.log(`${firstLoadTable(load).join('\n')}\n`);

console.log('From a typed chord to the repainted page, in Chromium');
const chromium = await findChromium();
for (const [name, address] of [
  ['e9', ''],
  ['universal12', 'setup=universal12'],
  ['universal12, 2 to 6 strings', 'setup=universal12&sizes=2-6&match=rootless'],
]) {
  const took = await typedToPainted(inRoot('build'), chromium, address);
  const at = (/** @type {number} */ share) =>
    (took[Math.min(took.length - 1, Math.floor(share * took.length))] ?? NaN).toFixed(0);
  console.log(`${name}: median ${at(0.5)} ms, nine of ten within ${at(0.9)} ms`);
}
console.log('Wanted: within 100 ms.\n');

console.log('From the space bar to sound, in Chromium');
const { first, later, outletMs } = await keyToSound(inRoot('build'), chromium);
const middle = later[Math.floor(later.length / 2)] ?? NaN;
console.log(`first press, with fetching: ${first.toFixed(0)} ms`);
console.log(
  `later presses: median ${middle.toFixed(0)} ms, slowest ${(later.at(-1) ?? NaN).toFixed(0)} ms`,
);
console.log(`the sound card adds ${outletMs.toFixed(0)} ms here\n`);

console.log('From frame to frame while the atlas scrolls');
for (const [name, address] of [
  ['e9', 'setup=e9'],
  ['universal12', 'setup=universal12'],
]) {
  const took = await atlasFrames(inRoot('build'), chromium, address);
  const at = (/** @type {number} */ share) =>
    (took[Math.min(took.length - 1, Math.floor(share * took.length))] ?? NaN).toFixed(1);
  console.log(
    `${name}: ${took.length} frames, median ${at(0.5)} ms, nineteen of twenty within ${at(0.95)} ms, longest ${at(1)} ms`,
  );
}
console.log('Wanted: 16.7 ms, sixty frames a second.\n');

const bundle = await ensureBundle('bench');
const code = await run(process.execPath, [bundle]);
const tooHeavy = load.total > BUDGET_BYTES;
if (tooHeavy) say('The script of the first page is heavier than its budget.');
process.exitCode = code !== 0 ? code : tooHeavy ? 1 : 0;
