// npm run measure: what a device four times slower than this one meets. `-- --rounds N` for a longer use.
import { parseArgs } from 'node:util';
import { ensureApp } from './lib/build.mjs';
import { findChromium } from './lib/chromium.mjs';
import { BUDGET_BYTES, firstLoad } from './lib/firstLoad.mjs';
import { ensureInstalled } from './lib/install.mjs';
import { inRoot } from './lib/root.mjs';

/** One round is what a player does in about six seconds: 600 make an hour. */
const { values } = parseArgs({ options: { rounds: { type: 'string', default: '600' } } });

await ensureInstalled();
// packages, which are there only now on a new machine
const {
  SLOWER,
  coldStarts,
  draggedFrames,
  heapInUse,
  median,
  millisecondsForSums,
  scrolledFrames,
  tasksWhileWorking,
} = await import('./lib/slowDevice.mjs');
await ensureApp();
const build = inRoot('build');
const chromium = await findChromium();
const ms = (/** @type {number} */ value) => `${value.toFixed(0)} ms`;
/** @param {string} what @param {string} measured @param {string} wanted */
const tell = (what, measured, wanted) => console.log(`${what}: ${measured} (wanted: ${wanted})`);

console.log(
  `Measured as on a device ${SLOWER} times slower than this machine, which now takes ${ms(await millisecondsForSums(chromium))} for fifty million sums.`,
);

const { total } = firstLoad(build);
tell(
  'Script before the first voicing',
  `${(total / 1000).toFixed(1)} KB gzip`,
  `at most ${BUDGET_BYTES / 1000} KB`,
);

const starts = await coldStarts(build, chromium, 5);
tell(
  'From a cold start to the first voicing',
  `median ${ms(median(starts))}, slowest ${ms(Math.max(...starts))}`,
  'within 2,000 ms',
);

for (const [what, frames] of /** @type {const} */ ([
  ['While the bar is dragged', await draggedFrames(build, chromium)],
  ['While the atlas scrolls', await scrolledFrames(build, chromium)],
])) {
  const sum = frames.reduce((all, each) => all + each, 0);
  const late = frames.filter((each) => each > 20.5).length;
  tell(
    what,
    `${((1000 * frames.length) / sum).toFixed(1)} frames a second, median ${median(frames).toFixed(1)} ms, ${late} of ${frames.length} later than a fiftieth of a second`,
    '50 frames a second',
  );
}

for (const { what, tasks, longestOfProcessor } of await tasksWhileWorking(build, chromium))
  tell(
    `Tasks over 50 ms while ${what}`,
    `${tasks.length === 0 ? 'none' : `${tasks.length}, longest ${ms(Math.max(...tasks))}`} by the clock; longest by processor time ${ms(longestOfProcessor)}`,
    'none',
  );

const heap = await heapInUse(build, chromium, Number(values.rounds));
tell(
  `Script’s heap through ${values.rounds} rounds of use`,
  heap.map((mb) => mb.toFixed(1)).join(', ') + ' MB',
  'flat',
);
