import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vite';
import site from '../svelte.config.js';

const here = (path: string) => fileURLToPath(new URL(path, import.meta.url));

/**
 * What is bundled for Node, by mode: the command line with the program of its worker threads, or
 * with `--mode bench` the benchmarks.
 */
const ENTRIES: Readonly<Record<string, Readonly<Record<string, string>>>> = {
  gripwright: {
    gripwright: here('../src/cli/main.ts'),
    'gripwright-worker': here('../src/cli/suggestWorker.ts'),
    'gripwright-songs': here('../src/cli/songsWorker.ts'),
  },
  bench: { bench: here('../tests/bench/main.ts') },
};

export default defineConfig(({ mode }) => {
  const name = mode in ENTRIES ? mode : 'gripwright';
  return {
    publicDir: false,
    // results of different versions are not joined
    define: { GRIPWRIGHT_SOURCES: JSON.stringify(site.kit?.version?.name?.split('-').at(-1)) },
    resolve: { alias: { $lib: here('../src/lib') } },
    // Everything goes into the bundle, so that it runs without node_modules; the queue alone is looked for there.
    ssr: { noExternal: true, external: ['bullmq', 'ioredis'] },
    build: {
      ssr: true,
      target: 'node20',
      outDir: 'dist',
      // The command line and the benchmarks lie side by side.
      emptyOutDir: false,
      minify: false,
      rolldownOptions: {
        input: { ...ENTRIES[name] },
        output: {
          format: 'es',
          entryFileNames: '[name].mjs',
          chunkFileNames: 'chunks/[name]-[hash].mjs',
          banner: (chunk) => (chunk.name === name ? '#!/usr/bin/env node' : ''),
        },
      },
    },
  };
});
