import { defineConfig } from 'vitest/config';
import { inRoot } from './lib/root.mjs';

/** The tests that are run on every changed file: in Node alone, and of those the ones that were named. */
export default defineConfig({
  resolve: { alias: { $lib: inRoot('src', 'lib') } },
  test: {
    include: (process.env.GRIPWRIGHT_TESTS ?? 'tests/unit/**/*.test.ts').split(','),
    environment: 'node',
    setupFiles: ['tests/seeded.ts'],
    isolate: false,
    testTimeout: 60_000,
    hookTimeout: 60_000,
  },
});
