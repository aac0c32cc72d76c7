/** On a new machine no package is there: what is run first must reach none before it has installed them. */
import { existsSync, readFileSync } from 'node:fs';
import { dirname, resolve } from 'node:path';
import { expect, it } from 'vitest';
import { inRoot } from '../../../scripts/lib/root.mjs';

/** Imports that are fetched before a module runs; `import(…)` comes later. */
const STATIC = /^(?:import|export)\s(?:[^'"();]*?\sfrom\s)?['"]([^'"]+)['"]/gm;

/** Packages that a script reaches by static imports, with the file that names each. */
function packagesOf(file: string, seen = new Set<string>()): string[] {
  if (seen.has(file)) return [];
  seen.add(file);
  return [...readFileSync(file, 'utf8').matchAll(STATIC)].flatMap(([, from = '']) => {
    if (from.startsWith('node:')) return [];
    return from.startsWith('.')
      ? packagesOf(resolve(dirname(file), from), seen)
      : [`${from} in ${file}`];
  });
}

/** Run by people and CI from a clean clone. */
const FIRST = ['start', 'test', 'gripwright', 'bench', 'measure', 'long'];

it.each(FIRST)('scripts/%s.mjs needs no package before it has installed them', (name) => {
  const file = inRoot(`scripts/${name}.mjs`);
  expect(existsSync(file)).toBe(true);
  expect(packagesOf(file)).toEqual([]);
});

it('finds a package that a script reaches by way of another', () => {
  expect(packagesOf(inRoot('scripts/serve.mjs')).join()).toContain('send in');
});
