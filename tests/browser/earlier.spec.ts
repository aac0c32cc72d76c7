/** What earlier formats wrote on a device is still there: every one has its file, which stays as it is. */
import { readFileSync } from 'node:fs';
import { inRoot } from '../../scripts/lib/root.mjs';
import { expect, keptPageTest as test } from './page';
import { ShelfPage } from './shelfPage';

interface Written {
  readonly database: { readonly name: string; readonly version: number };
  readonly local: Readonly<Record<string, string>>;
  readonly entries: readonly object[];
  readonly steps: readonly object[];
  readonly versions: readonly object[];
  readonly progression: object;
}

/** Runs in the page: lays the records down as that version of the program did. */
const lay = async ({ database, local, entries, steps, versions, progression }: Written) => {
  for (const [key, value] of Object.entries(local)) localStorage.setItem(key, value);
  const opened = await new Promise<IDBDatabase>((done, failed) => {
    const request = indexedDB.open(database.name, database.version);
    request.onupgradeneeded = () => {
      request.result.createObjectStore('entries', { keyPath: 'id' }).createIndex('kind', 'kind');
      for (const name of ['steps', 'versions'])
        request.result.createObjectStore(name, { keyPath: ['document', 'number'] });
    };
    request.onsuccess = () => done(request.result);
    request.onerror = () => failed(new Error('the database does not open'));
  });
  const transaction = opened.transaction(['entries', 'steps', 'versions'], 'readwrite');
  for (const each of entries) transaction.objectStore('entries').add(each);
  for (const each of [...steps, progression]) transaction.objectStore('steps').add(each);
  for (const each of versions) transaction.objectStore('versions').add(each);
  await new Promise<void>((done) => {
    transaction.oncomplete = () => done();
  });
  opened.close();
};

test('format 1 opens with its history, its versions, and the player’s choices', async ({
  page,
  trouble,
}) => {
  const written = JSON.parse(
    readFileSync(inRoot('tests/golden/kept-by-format-1.json'), 'utf8'),
  ) as Written;
  // a file of the same site that starts no program, and for which a browser wants a sign of the site
  trouble.allow(/favicon\.ico/);
  await page.goto('icon.svg');
  await page.evaluate(lay, written);

  const shelf = new ShelfPage(page);
  await shelf.open();
  await expect(shelf.names).toHaveText(['Workshop board']);
  await expect(page.locator('html')).toHaveAttribute('data-theme', 'dark');
  await page.goto('bench/?setup=k1');
  const chart = page.getByRole('grid');
  await expect(chart).toHaveAccessibleName(/^Copedent of G:/);
  await expect(
    chart.getByRole('gridcell', { name: 'A on string 2: raised 1 semitone to C 4' }),
  ).toBeVisible();
  await page.getByRole('button', { name: 'Undo', exact: true }).click();
  await expect(chart.getByRole('columnheader', { name: /^Pedal/ })).toHaveCount(0);

  // an address of then: it leads to where that is now
  await page.goto('progression/kept/');
  await expect(page).toHaveURL(/\/arrange\/kept\/?$/);
  await page.getByRole('link', { name: 'Harbour lights at six' }).first().click();
  await expect(page.locator('ol > li[data-place]')).toHaveCount(4);
  await page.getByRole('button', { name: 'Measure 2 C, kept' }).click();
  await expect(page.getByRole('button', { name: 'Keep fret of measure 2, C' })).toHaveAttribute(
    'aria-pressed',
    'true',
  );
});
