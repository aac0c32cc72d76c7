// npm run check:engines: the built program in Firefox and in WebKit, as they come with the system; what is
// not there is said and left out. The last line is "N passed, N failed".
//   -- --engine firefox  one of them alone
//   -- --only bench      only steps whose name has this word in it
//   -- --pictures DIR    a picture of every place in either size, to be looked at
import { mkdirSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { parseArgs } from 'node:util';
import { ensureApp } from './lib/build.mjs';
import { findFirefox, startFirefox } from './lib/engines/firefox.mjs';
import { findSound, startSound } from './lib/engines/sound.mjs';
import { Unanswered } from './lib/engines/webdriver.mjs';
import { findWebKit, startWebKit } from './lib/engines/webkit.mjs';
import { STEPS } from './lib/engines/steps.mjs';
import { ensureInstalled } from './lib/install.mjs';
import { say } from './lib/say.mjs';

const { values } = parseArgs({
  options: {
    engine: { type: 'string' },
    only: { type: 'string', default: '' },
    pictures: { type: 'string' },
  },
});

await ensureInstalled();
await ensureApp();
// packages, which are there only now on a new machine
const { Site } = await import('./lib/engines/site.mjs');

const firefox = findFirefox();
const webkit = findWebKit();
/** How each is started, where it is there, and what would bring it. */
const ENGINES = [
  {
    name: 'firefox',
    start:
      firefox === undefined
        ? undefined
        : (/** @type {Record<string, string>} */ env) => startFirefox(firefox, env),
    absent: 'Firefox is not there (Debian: firefox-esr)',
  },
  {
    name: 'webkit',
    start:
      webkit === undefined
        ? undefined
        : (/** @type {Record<string, string>} */ env) => startWebKit(webkit, env),
    absent: 'WebKit is not there (Debian: webkit2gtk-driver and xvfb)',
  },
].filter(({ name }) => values.engine === undefined || values.engine === name);

const steps = STEPS.filter(({ name }) => name.toLowerCase().includes(values.only.toLowerCase()));
const pictures = values.pictures === undefined ? undefined : resolve(values.pictures);
if (pictures !== undefined) mkdirSync(pictures, { recursive: true });

const programs = findSound();
const sound = programs && (await startSound(programs));
if (sound === undefined)
  say(
    'No sound card: what is played is not listened to (Debian: pulseaudio, pulseaudio-utils, gstreamer1.0-pulseaudio).',
  );

/** How often a step is begun where the browser stops answering. */
const TRIES = 3;
/** No server of sound is there. */
const SILENT = { PULSE_SERVER: 'unix:/nowhere' };

const count = { passed: 0, failed: 0 };
/** @type {string[]} */
const told = [];
for (const { name, start, absent } of ENGINES) {
  if (start === undefined) {
    told.push(`${absent}; skipped.`);
    continue;
  }
  const site = new Site();
  await site.up();
  let engine = await start(sound?.env ?? {});
  console.log(`\n== ${engine.name}`);
  let listening = true;
  /** @param {boolean} withSound whether it has the sound card then */
  const startAnew = async (withSound) => {
    await engine.end();
    listening = withSound;
    engine = await start(withSound ? (sound?.env ?? {}) : SILENT);
  };
  const given = () => ({
    page: engine.page,
    print: engine.print,
    site,
    sound: listening ? sound : undefined,
    show: async (/** @type {string} */ what) => {
      if (pictures !== undefined)
        writeFileSync(join(pictures, `${what}-${name}.png`), await engine.page.picture());
    },
  });
  const here = { passed: 0, failed: 0 };
  const begun = performance.now();
  try {
    for (const { name: step, walk } of steps) {
      const from = performance.now();
      const seconds = () => `${((performance.now() - from) / 1000).toFixed(1)} s`;
      try {
        await site.up();
        if (!listening) await startAnew(true);
        // with PulseAudio Firefox waits for itself at times, on a busy machine: it is started anew, twice a step, and
        // the second time without a sound card
        for (let tries = 1; ; tries += 1)
          try {
            await walk(given());
            break;
          } catch (error) {
            if (!(error instanceof Unanswered) || tries === TRIES) throw error;
            const again = tries < TRIES - 1;
            console.log(
              `   ${engine.name} is started anew${again ? '' : ', and not listened to'}: ${error.message}`,
            );
            await startAnew(again);
          }
        here.passed += 1;
        console.log(`   passed  ${step} (${seconds()})`);
      } catch (error) {
        here.failed += 1;
        console.log(
          `   FAILED  ${step} (${seconds()})\n           ${error instanceof Error ? error.message : String(error)}`,
        );
      }
    }
  } finally {
    await engine.end();
    await site.end();
  }
  count.passed += here.passed;
  count.failed += here.failed;
  told.push(
    `${engine.name}: ${here.passed + here.failed} steps, ${here.passed} passed, ${here.failed} failed, ${((performance.now() - begun) / 1000).toFixed(0)} s.`,
  );
}
sound?.end();

console.log(`\n${told.join('\n')}`);
if (count.failed > 0) process.exitCode = 1;
console.log(`\n${count.passed} passed, ${count.failed} failed`);
