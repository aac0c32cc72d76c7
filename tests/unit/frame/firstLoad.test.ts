import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { firstLoad } from '../../../scripts/lib/firstLoad.mjs';

let build: string;
beforeEach(() => {
  build = mkdtempSync(join(tmpdir(), 'gripwright-build-'));
});
afterEach(() => {
  rmSync(build, { recursive: true });
});

function write(file: string, text: string) {
  mkdirSync(dirname(join(build, file)), { recursive: true });
  writeFileSync(join(build, file), text);
}

it('counts what the page loads at once, and nothing it loads on demand', () => {
  write(
    'index.html',
    `<link rel="modulepreload" href="./_app/page.js"><link href="./a.css" rel="stylesheet">
     <script>Promise.all([import("./_app/start.js"), import("./_app/app.js")])</script>`,
  );
  write('_app/start.js', 'import{a as b}from"./chunks/one.js";import"./chunks/two.js";b()');
  write(
    '_app/app.js',
    'const n=[()=>import("./later.js")];export{n};export*from"./chunks/three.js"',
  );
  write('_app/page.js', 'new Worker(new URL("./worker.js",import.meta.url),{type:"module"})');
  write('_app/worker.js', 'import{x,\n$y}from"./chunks/four.js";');
  for (const name of ['one', 'two', 'three', 'four']) write(`_app/chunks/${name}.js`, 'export{}');
  write('_app/later.js', 'export{}');

  const { files, total } = firstLoad(build);
  expect(files.map(({ file }) => file).sort()).toEqual([
    '_app/app.js',
    '_app/chunks/four.js',
    '_app/chunks/one.js',
    '_app/chunks/three.js',
    '_app/chunks/two.js',
    '_app/page.js',
    '_app/start.js',
    '_app/worker.js',
  ]);
  expect(total).toBe(files.reduce((sum, { gzip }) => sum + gzip, 0));
});
