// WebKit: the driver of WebKitGTK and the small browser that comes with it, in a screen that nobody sees.
import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { existsSync, mkdirSync, mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { freePort } from '../freePort.mjs';
import { called } from './called.mjs';
import { Page } from './webdriver.mjs';

const LIBRARIES = '/usr/lib';
const STARTS_MS = 60_000;
/** What makes the browser's own buttons so small that its window can be as narrow as a phone. */
const SMALL = '* { min-width: 0; margin: 0; padding: 0; border-width: 0; font-size: 1px; }';

/** Commands by their names in Marionette: how they are asked over HTTP (WebDriver, 6.3). @type {Record<string, readonly [string, string]>} */
const ENDPOINTS = {
  'WebDriver:Navigate': ['POST', 'url'],
  'WebDriver:GetCurrentURL': ['GET', 'url'],
  'WebDriver:SetWindowRect': ['POST', 'window/rect'],
  'WebDriver:TakeScreenshot': ['GET', 'screenshot'],
  'WebDriver:ExecuteAsyncScript': ['POST', 'execute/async'],
  'WebDriver:ElementClick': ['POST', 'element/ID/click'],
  'WebDriver:PerformActions': ['POST', 'actions'],
  'WebDriver:ReleaseActions': ['DELETE', 'actions'],
};

/**
 * The three programs that it takes, where all are there.
 * @returns {{ driver: string, screen: string, browser: string } | undefined}
 */
export function findWebKit() {
  const driver = called('WebKitWebDriver');
  const screen = called('Xvfb');
  if (driver === undefined || screen === undefined) return undefined;
  // Debian has it in the library's own folder, under the machine's name and the library's version
  const browser = readdirSync(LIBRARIES)
    .filter((name) => name.endsWith('-linux-gnu'))
    .flatMap((name) =>
      readdirSync(join(LIBRARIES, name))
        .filter((each) => /^webkit2?gtk-[\d.]+$/u.test(each))
        .map((each) => join(LIBRARIES, name, each, 'MiniBrowser')),
    )
    .findLast((path) => existsSync(path));
  return browser === undefined ? undefined : { driver, screen, browser };
}

/**
 * Starts it with nothing kept from before; nor does it keep anything for the next start.
 *
 * @param {NonNullable<ReturnType<typeof findWebKit>>} programs
 * @param {Record<string, string>} env what else it finds in its surroundings
 */
export async function startWebKit({ driver, screen, browser }, env) {
  // the screen chooses its own number, and writes it to the fourth of its streams
  const shown = spawn(
    screen,
    ['-displayfd', '3', '-screen', '0', '1600x1200x24', '-nolisten', 'tcp'],
    {
      stdio: ['ignore', 'ignore', 'ignore', 'pipe'],
    },
  );
  const [number] = await once(
    /** @type {import('node:stream').Readable} */ (shown.stdio[3]),
    'data',
  );
  const port = await freePort(4610);
  const folder = mkdtempSync(join(tmpdir(), 'gripwright-webkit-'));
  mkdirSync(join(folder, 'gtk-3.0'));
  writeFileSync(join(folder, 'gtk-3.0', 'gtk.css'), SMALL);
  const homes = { XDG_CONFIG_HOME: folder, XDG_DATA_HOME: folder, XDG_CACHE_HOME: folder };
  const child = spawn(driver, [`--port=${port}`], {
    stdio: 'ignore',
    env: { ...process.env, ...homes, ...env, DISPLAY: `:${String(number).trim()}` },
  });

  /** @param {string} method @param {string} path @param {unknown} [body] */
  const call = async (method, path, body) => {
    const answer = await fetch(`http://127.0.0.1:${port}/${path}`, {
      method,
      body: body === undefined ? null : JSON.stringify(body),
    });
    /** @type {any} */
    const { value } = await answer.json();
    if (!answer.ok) throw new Error(`${value?.error}: ${value?.message}`);
    return value;
  };
  const { sessionId, capabilities } = await started(() =>
    call('POST', 'session', {
      capabilities: {
        alwaysMatch: {
          'webkitgtk:browserOptions': {
            binary: browser,
            args: [
              '--automation',
              '--enable-media-stream=true',
              '--enable-mock-capture-devices=true',
            ],
          },
        },
      },
    }),
  );
  const session = `session/${sessionId}`;
  /** @type {import('./webdriver.mjs').Send} */
  const send = (command, { id, ...parameters } = {}) => {
    const [method, path] = ENDPOINTS[command] ?? [];
    if (method === undefined || path === undefined) throw new Error(`${command} has no endpoint.`);
    return call(
      method,
      `${session}/${path.replace('ID', String(id))}`,
      method === 'POST' ? parameters : undefined,
    );
  };
  return {
    name: `WebKitGTK ${capabilities.browserVersion}`,
    page: new Page(send),
    /** Its driver cannot print. */
    print: undefined,
    end: async () => {
      await call('DELETE', session).catch(() => undefined);
      child.kill();
      shown.kill();
      // its processes go one after the other, and write until then
      rmSync(folder, { recursive: true, force: true, maxRetries: 20, retryDelay: 200 });
    },
  };
}

/**
 * What is tried until it is there.
 * @template T
 * @param {() => Promise<T>} attempt
 */
async function started(attempt) {
  const end = Date.now() + STARTS_MS;
  for (;;) {
    try {
      return await attempt();
    } catch (error) {
      if (Date.now() > end || !String(error).includes('fetch failed')) throw error;
      await new Promise((done) => setTimeout(done, 200));
    }
  }
}
