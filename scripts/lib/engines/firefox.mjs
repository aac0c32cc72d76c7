// Firefox, asked by Marionette: what it speaks by itself, under every driver. A message is `length:JSON`, a command
// `[0, number, name, parameters]`, an answer `[1, number, error, result]`
// (https://firefox-source-docs.mozilla.org/testing/marionette/Protocol.html).
import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { connect } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { freePort } from '../freePort.mjs';
import { called } from './called.mjs';
import { Page } from './webdriver.mjs';

const STARTS_MS = 60_000;

/** What is set for the check alone: its port, windows as narrow as a phone, a microphone, and silence towards the world. */
const prefs = (/** @type {number} */ port) => ({
  'marionette.port': port,
  'toolkit.legacyUserProfileCustomizations.stylesheets': true,
  // the microphone is a tone of its own, and is not asked for
  'media.navigator.streams.fake': true,
  'media.navigator.permission.disabled': true,
  // it asks nobody for news while it is here
  'app.normandy.enabled': false,
  'browser.region.network.url': '',
  'network.captive-portal-service.enabled': false,
  'network.connectivity-service.enabled': false,
  'services.settings.server': 'data:,',
});

/** The path of a Firefox, where there is one. */
export const findFirefox = () => called('firefox-esr', 'firefox');

/**
 * Starts it with a profile of its own, without a window.
 *
 * @param {string} program
 * @param {Record<string, string>} env what else it finds in its surroundings
 */
export async function startFirefox(program, env) {
  const profile = mkdtempSync(join(tmpdir(), 'gripwright-firefox-'));
  const port = await freePort(4590);
  const lines = Object.entries(prefs(port)).map(
    ([name, value]) => `user_pref(${JSON.stringify(name)}, ${JSON.stringify(value)});\n`,
  );
  writeFileSync(join(profile, 'user.js'), lines.join(''));
  mkdirSync(join(profile, 'chrome'), { recursive: true });
  writeFileSync(
    join(profile, 'chrome', 'userChrome.css'),
    ':root, #navigator-toolbox { min-width: 0 !important; }',
  );
  const child = spawn(program, ['--headless', '--marionette', '--profile', profile], {
    stdio: 'ignore',
    env: { ...process.env, ...env },
  });
  const ended = once(child, 'close');

  const socket = await connected(port);
  /** @type {Map<number, { done: (value: any) => void, failed: (error: Error) => void }>} */
  const asked = new Map();
  let rest = Buffer.alloc(0);
  socket.on('data', (data) => {
    rest = Buffer.concat([rest, data]);
    for (;;) {
      const colon = rest.indexOf(':');
      const end = colon + 1 + Number(rest.subarray(0, colon));
      if (colon < 0 || rest.length < end) return;
      const message = JSON.parse(rest.subarray(colon + 1, end).toString());
      rest = rest.subarray(end);
      // the first one greets and answers nothing
      if (!Array.isArray(message)) continue;
      const [, number, error, result] = message;
      const waiting = asked.get(number);
      asked.delete(number);
      if (error) waiting?.failed(new Error(`${error.error}: ${error.message}`));
      else waiting?.done(result !== null && 'value' in result ? result.value : result);
    }
  });
  socket.on('close', () => {
    for (const { failed } of asked.values()) failed(new Error('Firefox has ended.'));
    asked.clear();
  });
  let count = 0;
  /** @type {import('./webdriver.mjs').Send} */
  const send = (command, parameters = {}) =>
    new Promise((done, failed) => {
      asked.set((count += 1), { done, failed });
      const message = JSON.stringify([0, count, command, parameters]);
      socket.write(`${Buffer.byteLength(message)}:${message}`);
    });
  const { capabilities } = await send('WebDriver:NewSession');
  return {
    name: `Firefox ${capabilities.browserVersion}`,
    page: new Page(send),
    /** A page as PDF, as it would be printed. @returns {Promise<Buffer>} */
    print: async () => Buffer.from(await send('WebDriver:Print'), 'base64'),
    end: async () => {
      const patience = setTimeout(() => child.kill('SIGKILL'), 10_000);
      send('Marionette:Quit', { flags: ['eForceQuit'] }).catch(() => undefined);
      await ended;
      clearTimeout(patience);
      rmSync(profile, { recursive: true, force: true, maxRetries: 20, retryDelay: 200 });
    },
  };
}

/** @param {number} port @returns {Promise<import('node:net').Socket>} */
async function connected(port) {
  const end = Date.now() + STARTS_MS;
  for (;;) {
    try {
      return await new Promise((done, failed) => {
        const socket = connect(port, '127.0.0.1', () => done(socket));
        socket.once('error', failed);
      });
    } catch (error) {
      if (Date.now() > end) throw error;
      await new Promise((done) => setTimeout(done, 200));
    }
  }
}
