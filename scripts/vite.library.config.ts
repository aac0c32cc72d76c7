import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vite';

const here = (path: string) => fileURLToPath(new URL(path, import.meta.url));

/** The engine as one module of plain JavaScript, for Node and for a page without a bundler. */
export default defineConfig({
  publicDir: false,
  resolve: { alias: { $lib: here('../src/lib') } },
  build: {
    target: 'es2023',
    outDir: 'dist/library',
    minify: false,
    lib: { entry: here('../src/library.ts'), formats: ['es'], fileName: () => 'gripwright.js' },
    rolldownOptions: {
      treeshake: {
        moduleSideEffects: [{ test: /\/node_modules\/@tonaljs\//u, sideEffects: false }],
      },
      output: { codeSplitting: false },
    },
  },
});
