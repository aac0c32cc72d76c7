import { availableParallelism } from 'node:os';
import { sveltekit } from '@sveltejs/kit/vite';
import { playwright } from '@vitest/browser-playwright';
import { defineConfig } from 'vitest/config';
import { alwaysLoaded } from './scripts/lib/alwaysLoaded.mjs';
import { browserLaunch } from './scripts/lib/browserLaunch.mjs';

/**
 * The theory library is many packages that only define things: of those that nobody asks for, nothing has
 * to be loaded, neither by a page nor by its workers.
 */
const rolldownOptions = {
  treeshake: {
    moduleSideEffects: [{ test: /\/node_modules\/@tonaljs\//u, sideEffects: false }],
  },
};

export default defineConfig({
  plugins: [sveltekit(), alwaysLoaded()],
  server: { host: '127.0.0.1', fs: { allow: ['shared'] } },
  preview: { host: '127.0.0.1' },
  worker: { format: 'es', rolldownOptions },
  build: {
    target: 'es2023',
    rolldownOptions,
    // the site's own rules let fonts come from its files alone, not from addresses that hold them
    assetsInlineLimit: (file) => (/\.(ttf|woff2?)$/u.test(file) ? false : undefined),
  },
  test: {
    expect: { requireAssertions: true },
    // a whole battery may take minutes
    testTimeout: process.env.GRIPWRIGHT_LONG === '1' ? 3_600_000 : 60_000,
    // what is made ready before a test may take as long as one
    hookTimeout: 60_000,
    // left to itself it keeps one core free, which of two is half
    maxWorkers: Math.max(2, availableParallelism() - 1),
    projects: [
      {
        extends: true,
        test: {
          name: 'node',
          include: ['tests/{reference,property,unit}/**/*.test.ts'],
          environment: 'node',
          setupFiles: ['tests/seeded.ts'],
          // a process and all modules anew for every file cost 140 seconds of a core, this costs 90:
          // no test may lean on what it finds in a module, or leave anything there
          isolate: false,
        },
      },
      {
        // what sounds is rendered by a real browser, and measured
        extends: true,
        optimizeDeps: { include: ['pitchy', 'tonal'] },
        // what the batteries ask, where there is no process
        define: Object.fromEntries(
          ['GRIPWRIGHT_LONG', 'GRIPWRIGHT_SEED'].map((name) => [
            `process.env.${name}`,
            JSON.stringify(process.env[name]) ?? 'undefined',
          ]),
        ),
        test: {
          name: 'listening',
          include: ['tests/listening/**/*.test.ts'],
          browser: {
            enabled: true,
            headless: true,
            screenshotFailures: false,
            instances: [{ browser: 'chromium' }],
            provider: playwright({
              launchOptions: browserLaunch(
                '--autoplay-policy=no-user-gesture-required',
                // what a long session leaves in memory is measured
                '--enable-precise-memory-info',
                '--js-flags=--expose-gc',
              ),
            }),
          },
        },
      },
    ],
  },
});
