import { ESLint } from 'eslint';
import ts from 'typescript-eslint';
import { describe, expect, it } from 'vitest';
import { storeyConfigs } from '../../../scripts/lib/storeys.mjs';

const eslint = new ESLint({
  overrideConfigFile: true,
  overrideConfig: [
    { files: ['**/*.ts'], languageOptions: { parser: ts.parser } },
    ...storeyConfigs,
  ],
});

/** The rules a piece of text breaks, were it in that file. */
async function broken(file: string, text: string): Promise<(string | null)[]> {
  const [result] = await eslint.lintText(text, { filePath: file });
  return result!.messages.map(({ ruleId }) => ruleId);
}

const IMPORTS = 'storeys/imports';
const GLOBALS = 'no-restricted-globals';

describe('the storey rules report', () => {
  it.each([
    ['a lower storey', 'src/lib/theory/a.ts', "import { b } from '$lib/setup/b';"],
    ['the search knowing effort', 'src/lib/search/a.ts', "import { b } from '$lib/effort/b';"],
    ['a type from a lower storey', 'src/lib/setup/a.ts', "import type { B } from '$lib/ui/b';"],
    ['a re-export', 'src/lib/setup/a.ts', "export * from '$lib/search/b';"],
    ['an import on demand', 'src/lib/setup/a.ts', "export const b = import('$lib/search/b');"],
    ['a type by import()', 'src/lib/setup/a.ts', "export type B = import('$lib/search/b').B;"],
    ['a worker', 'src/lib/setup/a.ts', "new Worker(new URL('../search/b', import.meta.url));"],
    ['a relative way out', 'src/lib/search/deep/a.ts', "import { b } from '../../theory/b';"],
    ['a way out of src/lib', 'src/lib/ui/a.ts', "import { b } from '../../routes/b';"],
    ['a storey not in the list', 'src/lib/ui/a.ts', "import { b } from '$lib/utils/b';"],
    ['a loose file', 'src/lib/ui/a.ts', "import { b } from '$lib/b';"],
    ['a common file using a storey', 'src/lib/result.ts', "import { b } from '$lib/theory/b';"],
    ['tonal outside theory', 'src/lib/setup/a.ts', "import { Note } from 'tonal';"],
    ['Svelte in a pure storey', 'src/lib/search/a.ts', "import { tick } from 'svelte';"],
    ['a store in a pure storey', 'src/lib/search/a.ts', "import { get } from 'svelte/store';"],
    ['Kit in a pure storey', 'src/lib/formats/a.ts', "import { browser } from '$app/environment';"],
    ['Node in a pure storey', 'src/lib/formats/a.ts', "import { readFile } from 'node:fs';"],
    ['Node without its prefix', 'src/lib/formats/a.ts', "import { readFile } from 'fs/promises';"],
    ['sound on the command line', 'src/cli/a.ts', "import { b } from '$lib/sound/b';"],
  ])('%s', async (_what, file, text) => {
    expect(await broken(file, text)).toEqual([IMPORTS]);
  });

  it.each([
    ['the window', 'src/lib/search/a.ts', 'export const a = window.innerWidth;', GLOBALS],
    ['storage', 'src/lib/tuning/a.ts', "localStorage.setItem('a', 'b');", GLOBALS],
    ['a way round by globalThis', 'src/lib/tuning/a.ts', 'globalThis.document;', GLOBALS],
    ['the clock', 'src/lib/formats/a.ts', 'export const a = new Date();', GLOBALS],
    ['chance', 'src/lib/arrange/a.ts', 'Math.random();', 'no-restricted-properties'],
    ['printing', 'src/lib/ui/a.ts', "console.log('a');", 'no-console'],
  ])('%s', async (_what, file, text, rule) => {
    expect(await broken(file, text)).toEqual([rule]);
  });
});

describe('the storey rules allow', () => {
  it.each([
    ['a higher storey', 'src/lib/search/a.ts', "import { b } from '$lib/theory/b';"],
    ['effort ranking what is found', 'src/lib/effort/a.ts', "import { b } from '$lib/search/b';"],
    ['a neighbour', 'src/lib/search/a.ts', "import { b } from './b';"],
    ['a neighbour one folder up', 'src/lib/ui/neck/a.ts', "import { b } from '../parts/b';"],
    ['the common result', 'src/lib/theory/a.ts', "import { ok } from '$lib/result';"],
    ['the common faults', 'src/lib/theory/a.ts', "import { fault } from '$lib/faults';"],
    ['shared setups', 'src/lib/setup/a.ts', "import e9 from '../../../shared/setups/e9.json';"],
    ['tonal in theory', 'src/lib/theory/a.ts', "import { Note } from 'tonal';"],
    ['Svelte in ui', 'src/lib/ui/a.svelte.ts', "import { tick } from 'svelte';"],
    ['other packages', 'src/lib/setup/a.ts', "import * as v from 'valibot';"],
    ['the window in ui', 'src/lib/ui/a.ts', 'export const a = window.innerWidth;'],
    ['a local called history', 'src/lib/arrange/a.ts', 'const history = [1]; history.pop();'],
    ['anything on a page', 'src/routes/a.ts', "import { b } from '$lib/sound/b';"],
    ['pure storeys on the command line', 'src/cli/a.ts', "import { b } from '$lib/formats/b';"],
    ['Node on the command line', 'src/cli/jobs/a.ts', "import '../b'; import 'node:fs';"],
  ])('%s', async (_what, file, text) => {
    expect(await broken(file, text)).toEqual([]);
  });
});
