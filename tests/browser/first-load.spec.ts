/** What each place loads at once weighs no more than it may; read from the files that were built. */
import { readdirSync } from 'node:fs';
import { expect, test } from '@playwright/test';
import { BUDGETS, firstLoad, firstLoadTable } from '../../scripts/lib/firstLoad.mjs';
import { inRoot } from '../../scripts/lib/root.mjs';

const BUILD = inRoot('build');
const PAGES = readdirSync(BUILD, { recursive: true, encoding: 'utf8' })
  .map((file) => file.replaceAll('\\', '/'))
  .filter((file) => file.endsWith('.html'));

test('every place has a budget for what it loads at once, and keeps to it', () => {
  expect(PAGES.toSorted()).toEqual(Object.keys(BUDGETS).toSorted());
  const tooHeavy = PAGES.flatMap((page) => {
    const load = firstLoad(BUILD, page);
    return load.total > (BUDGETS[page] ?? 0) ? [[page, ...firstLoadTable(load, page)]] : [];
  });
  expect(tooHeavy).toEqual([]);
});
