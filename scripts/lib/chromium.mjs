import { spawnSync } from 'node:child_process';
import { accessSync, constants, existsSync, statSync } from 'node:fs';
import { delimiter, join } from 'node:path';
import { run, tool } from './run.mjs';
import { giveUp, say } from './say.mjs';

/** The quickest: it has no window, so nothing is drawn around a page. */
const SHELL = 'chromium-headless-shell';
const NAMES = ['chromium', 'chromium-browser', 'google-chrome', 'google-chrome-stable'];
/** Debian's, in the order they are tried. */
const PACKAGES = [SHELL, 'chromium'];
const ELSEWHERE = [
  '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
  '/Applications/Chromium.app/Contents/MacOS/Chromium',
];
const DOWNLOAD_LIMIT_MS = 60_000;

/**
 * The path of a Chromium that runs, for the browser tests: the one GRIPWRIGHT_CHROMIUM names, or
 * a headless shell of the system, or Playwright's own, or another of the system. If there is none,
 * Playwright is asked to download its own, and failing that, one of Debian's packages is installed
 * where that is allowed.
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
  const present = [...called(SHELL), playwrights, ...called(...NAMES), ...ELSEWHERE].find(runs);
  if (present) return present;

  say('No Chromium is here yet; Playwright is downloading its own, for a minute at most.');
  const args = ['install', 'chromium'];
  await tool('@playwright/test', args, { mute: true, limitMs: DOWNLOAD_LIMIT_MS });
  if (runs(playwrights)) return playwrights;
  say("Playwright's Chromium could not be downloaded or does not run on this system.");

  if (existsSync('/etc/debian_version') && process.getuid?.() === 0) {
    const how = { onStderr: true, env: { DEBIAN_FRONTEND: 'noninteractive' } };
    await run('apt-get', ['update', '-qq'], how);
    for (const name of PACKAGES) {
      say(`Installing Debian's package ${name}.`);
      await run('apt-get', ['install', '-y', '-qq', '--no-install-recommends', name], how);
      const installed = called(name).find(runs);
      if (installed) return installed;
    }
  }
  giveUp(
    'The browser tests need Chromium and none was found. ' +
      'Install Chromium or Google Chrome, or set GRIPWRIGHT_CHROMIUM to the path of one.',
  );
}

/**
 * Where programs of these names would be in the system.
 *
 * @param {string[]} names
 */
function called(...names) {
  const folders = new Set(['/usr/bin', ...(process.env.PATH ?? '').split(delimiter)]);
  return names.flatMap((name) => [...folders].map((folder) => join(folder, name)));
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
