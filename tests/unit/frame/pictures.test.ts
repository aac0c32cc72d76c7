/** Pictures of the program: where the README looks for them, and not on the player's device. */
import { existsSync, readFileSync, readdirSync } from 'node:fs';
import { expect, it } from 'vitest';
import { inRoot } from '../../../scripts/lib/root.mjs';
import config from '../../../svelte.config.js';

const isKept = config.kit?.serviceWorker?.files;

it('stand where the README says', () => {
  const named = [...readFileSync(inRoot('README.md'), 'utf8').matchAll(/!\[[^\]]+\]\(([^)]+)\)/gu)];
  expect(named.length).toBeGreaterThan(0);
  for (const [, path = ''] of named) expect(existsSync(inRoot(path)), path).toBe(true);
});

it('are not kept for use without a network; all else that is served as it is, is', () => {
  const files = readdirSync(inRoot('static'), { recursive: true, withFileTypes: true })
    .filter((file) => file.isFile())
    .map((file) => `${file.parentPath}/${file.name}`.slice(inRoot('static/').length));
  expect(files).toContain('pictures/explore.png');
  expect(files).toContain('manifest.webmanifest');
  for (const file of files) expect(isKept?.(file), file).toBe(!file.startsWith('pictures/'));
});
