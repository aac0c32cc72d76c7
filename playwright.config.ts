import { existsSync } from 'node:fs';
import { defineConfig } from '@playwright/test';

/** `npm test` looks for a Chromium and a free port and hands them over in these variables. */
const port = Number(process.env.GRIPWRIGHT_TEST_PORT ?? 4317);
const systems = '/usr/bin/chromium';
const chromium = process.env.GRIPWRIGHT_CHROMIUM ?? (existsSync(systems) ? systems : undefined);

export default defineConfig({
  testDir: 'tests/browser',
  outputDir: 'test-results/browser',
  workers: 2,
  fullyParallel: true,
  forbidOnly: !!process.env.CI,
  retries: process.env.CI ? 1 : 0,
  reporter: [['list'], ['json', { outputFile: 'test-results/browser.json' }]],
  use: {
    baseURL: `http://127.0.0.1:${port}/`,
    browserName: 'chromium',
    // writing down what happens costs a fifth of the time; a test that fails is run again with it
    trace: process.env.CI ? 'on-first-retry' : 'retain-on-failure',
    // a visit fetches the whole program to keep it; only the tests of that need it
    serviceWorkers: 'block',
    launchOptions: {
      ...(chromium ? { executablePath: chromium } : {}),
      args: [
        '--no-sandbox',
        '--no-first-run',
        '--disable-background-networking',
        '--disable-component-update',
        '--disable-sync',
      ],
    },
  },
  webServer: {
    command: `node scripts/serve.mjs --port ${port}`,
    url: `http://127.0.0.1:${port}/`,
    reuseExistingServer: false,
    timeout: 20_000,
  },
});
