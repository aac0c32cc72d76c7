import { availableParallelism } from 'node:os';
import { defineConfig } from '@playwright/test';
import { browserLaunch } from './scripts/lib/browserLaunch.mjs';

/** `npm test` looks for a free port and hands it over in this variable. */
const port = Number(process.env.GRIPWRIGHT_TEST_PORT ?? 4317);

/**
 * Files with tests that take long by themselves. Projects begin in their order here, so these come
 * first: a long test that begins last leaves one core at work and the others idle.
 */
const SLOW =
  /\/(accessibility|offline|everyone|flows|tuner|screen|compare|bench|change)\.spec\.ts$/;
const LONG = /\/browser\/long\//;

export default defineConfig({
  testDir: 'tests/browser',
  outputDir: 'test-results/browser',
  // one more than cores: a third of a test is waiting, for sound, for a timer, for the page to draw
  workers: Math.max(2, availableParallelism()) + 1,
  fullyParallel: true,
  // half as long again as is usual, since three take turns at two cores; nothing here measures time
  timeout: 45_000,
  expect: { timeout: 7_500 },
  forbidOnly: !!process.env.CI,
  // what passes only at the second try is told at the end, by name
  retries: 1,
  reporter: [['list'], ['json', { outputFile: 'test-results/browser.json' }]],
  // long walks are a project of their own, which `npm run check:long` alone knows
  projects:
    process.env.GRIPWRIGHT_LONG === '1'
      ? [{ name: 'long', testMatch: LONG, timeout: 3_600_000, retries: 0 }]
      : [
          { name: 'slow', testMatch: SLOW, testIgnore: LONG },
          { name: 'others', testIgnore: [SLOW, LONG] },
        ],
  use: {
    baseURL: `http://127.0.0.1:${port}/`,
    browserName: 'chromium',
    // writing down what happens costs a fifth of the time; a test that fails is run again with it
    trace: 'on-first-retry',
    // a visit fetches the whole program to keep it; only the tests of that need it
    serviceWorkers: 'block',
    // most of what is opened lives for a second: making its code fast costs more than fast code saves
    launchOptions: browserLaunch('--js-flags=--no-turbofan'),
  },
  webServer: {
    command: `node scripts/serve.mjs --port ${port}`,
    url: `http://127.0.0.1:${port}/`,
    reuseExistingServer: false,
    timeout: 20_000,
  },
});
