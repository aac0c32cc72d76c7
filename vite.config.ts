import { sveltekit } from '@sveltejs/kit/vite';
import { defineConfig } from 'vitest/config';

export default defineConfig({
  plugins: [sveltekit()],
  server: { host: '127.0.0.1', fs: { allow: ['shared'] } },
  preview: { host: '127.0.0.1' },
  worker: { format: 'es' },
  build: { target: 'es2023' },
  test: {
    include: ['tests/{reference,property,unit}/**/*.test.ts'],
    environment: 'node',
    expect: { requireAssertions: true },
    testTimeout: 60_000,
  },
});
