/** Every page is among the places that axe, other engines and walks at 320 pixels go through. */
import { readdirSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { expect, it } from 'vitest';
import { PLACES } from '../../../scripts/lib/places.mjs';

const ROUTES = fileURLToPath(new URL('../../../src/routes/', import.meta.url));
const PAGE = '+page.svelte';

it('every page is a place that all checks of places go to', () => {
  const pages = readdirSync(ROUTES, { recursive: true, encoding: 'utf8' })
    .map((name) => name.replaceAll('\\', '/'))
    .filter((name) => name.endsWith(PAGE))
    .map((name) => name.slice(0, -PAGE.length));
  expect(pages).toContain('');
  const walked: readonly string[] = PLACES.map((place) => place.replace(/\?.*$/, ''));
  // addresses of earlier versions, which lead on
  const present = pages.filter((page) => !page.startsWith('progression/'));
  expect(present.filter((page) => !walked.includes(page))).toEqual([]);
});
