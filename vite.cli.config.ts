import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vite';

const here = (path: string) => fileURLToPath(new URL(path, import.meta.url));

/** What is bundled for Node, by mode: the command line, or with `--mode bench` the benchmarks. */
const ENTRIES: Readonly<Record<string, string>> = {
  gripwright: here('src/cli/main.ts'),
  bench: here('tests/bench/main.ts'),
};

export default defineConfig(({ mode }) => {
  const name = mode in ENTRIES ? mode : 'gripwright';
  return {
    publicDir: false,
    resolve: { alias: { $lib: here('src/lib') } },
    // Everything goes into the bundle, so that it runs without node_modules.
    ssr: { noExternal: true },
    build: {
      ssr: true,
      target: 'node20',
      outDir: 'dist',
      // The command line and the benchmarks lie side by side.
      emptyOutDir: false,
      minify: false,
      rolldownOptions: {
        input: { [name]: ENTRIES[name] ?? '' },
        output: {
          format: 'es',
          entryFileNames: '[name].mjs',
          chunkFileNames: 'chunks/[name]-[hash].mjs',
          banner: (chunk) => (chunk.isEntry ? '#!/usr/bin/env node' : ''),
        },
      },
    },
  };
});
