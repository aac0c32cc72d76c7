import { spawnSync } from 'node:child_process';
import { accessSync, constants, existsSync, statSync } from 'node:fs';
import { delimiter, join } from 'node:path';
import { run, tool } from './run.mjs';
import { giveUp, say } from './say.mjs';

const NAMES = ['chromium', 'chromium-browser', 'google-chrome', 'google-chrome-stable'];
const ELSEWHERE = [
  '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
  '/Applications/Chromium.app/Contents/MacOS/Chromium',
];
const DOWNLOAD_LIMIT_MS = 60_000;

/**
 * The path of a Chromium that runs, for the browser tests: the one GRIPWRIGHT_CHROMIUM names, or
 * Playwright's own, or one of the system. If there is none, Playwright is asked to download its
 * own, and failing that, Debian's package is installed where that is allowed.
 *
 * @returns {Promise<string>}
 */
export async function findChromium() {
  const named = process.env.GRIPWRIGHT_CHROMIUM;
  if (named) {
    if (isExecutable(named)) return named;
    giveUp(`GRIPWRIGHT_CHROMIUM names ${named}, which is not a program that can be run.`);
  }
  const { chromium } = await import('@playwright/test');
  const playwrights = chromium.executablePath();
  const present = [playwrights, ...ofTheSystem()].find(runs);
  if (present) return present;

  say('No Chromium is here yet; Playwright is downloading its own, for a minute at most.');
  const args = ['install', 'chromium'];
  await tool('@playwright/test', args, { mute: true, limitMs: DOWNLOAD_LIMIT_MS });
  if (runs(playwrights)) return playwrights;
  say("Playwright's Chromium could not be downloaded or does not run on this system.");

  if (existsSync('/etc/debian_version') && process.getuid?.() === 0) {
    say("Installing Debian's package chromium.");
    const how = { onStderr: true, env: { DEBIAN_FRONTEND: 'noninteractive' } };
    await run('apt-get', ['update', '-qq'], how);
    await run('apt-get', ['install', '-y', '-qq', '--no-install-recommends', 'chromium'], how);
    const installed = ofTheSystem().find(runs);
    if (installed) return installed;
  }
  giveUp(
    'The browser tests need Chromium and none was found. ' +
      'Install Chromium or Google Chrome, or set GRIPWRIGHT_CHROMIUM to the path of one.',
  );
}

/** Where a Chromium of the system may be: on the path, or where macOS keeps programs. */
function ofTheSystem() {
  const folders = new Set(['/usr/bin', ...(process.env.PATH ?? '').split(delimiter)]);
  return [...NAMES.flatMap((name) => [...folders].map((f) => join(f, name))), ...ELSEWHERE];
}

/** @param {string} path */
function isExecutable(path) {
  try {
    accessSync(path, constants.X_OK);
    return statSync(path).isFile();
  } catch {
    return false;
  }
}

/** Whether it starts at all; some systems put a signpost to a shop where the browser would be. */
function runs(/** @type {string} */ path) {
  if (!isExecutable(path)) return false;
  return spawnSync(path, ['--version'], { timeout: 20_000, stdio: 'ignore' }).status === 0;
}
