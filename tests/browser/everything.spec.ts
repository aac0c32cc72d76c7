/** One file with everything: saved in one browser, opened in another; and what is told where things are gone. */
import { readFile } from 'node:fs/promises';
import { type Page } from '@playwright/test';
import { expect, keptPageTest as test } from './page';
import { ShelfPage, fileOf } from './shelfPage';

const theme = (page: Page): Promise<string | null> =>
  page.evaluate(() => localStorage.getItem('gripwright-theme'));

test('everything is saved as one file, and merged with what another browser has', async ({
  page,
  browser,
}) => {
  test.setTimeout(120_000);
  const here = new ShelfPage(page);
  await here.open();
  await page.evaluate(() => localStorage.setItem('gripwright-theme', 'dark'));
  await page.evaluate(() => localStorage.setItem('gripwright-sound', '{"level":0.4}'));
  await here.drop([{ name: 'x.json', content: fileOf('Taken along') }]);
  await here.rename('Taken along', 'Renamed');
  await expect(here.names).toHaveText(['Renamed']);
  await page.goto(`arrange/?chords=${encodeURIComponent('title: Shed song\nG | C')}`);
  await expect(page.getByRole('textbox', { name: 'Title' })).toHaveValue('Shed song');
  await page.getByRole('button', { name: 'Keep on this device' }).click();
  await expect(page).toHaveURL(/progression=kept-/);
  await here.open();
  const saving = page.waitForEvent('download');
  await page.getByRole('button', { name: 'Save everything' }).click();
  const saved = await saving;
  expect(saved.suggestedFilename()).toBe('Gripwright-everything.json');
  await expect(page.getByText('Everything that is kept here is saved as one file.')).toBeVisible();
  const content = await readFile(await saved.path(), 'utf8');

  const another = await browser.newContext();
  const there = new ShelfPage(await another.newPage());
  await there.open();
  await there.page.evaluate(() => localStorage.setItem('gripwright-theme', 'light'));
  await there.drop([{ name: 'own.json', content: fileOf('There already') }]);
  await expect(there.names).toHaveText(['There already']);

  await test.step('a damaged one is refused with its place, and changes nothing', async () => {
    const cut = content.slice(0, content.lastIndexOf('{"entry":{') + 60);
    await there.drop([{ name: 'cut.json', content: cut }]);
    await expect(there.answers.first()).toContainText('cut.json was not opened.');
    await expect(there.answers.first()).toContainText(/not JSON \(in document 2, at character/);
    await expect(there.names).toHaveText(['There already']);
  });

  await test.step('it is opened by the button, beside what is there', async () => {
    const field = there.page.getByLabel(/^Open setup files/);
    const buffer = Buffer.from(content);
    await field.setInputFiles({ name: 'all.json', mimeType: 'application/json', buffer });
    await expect(there.answers.first()).toContainText('2 restored');
    await expect(there.names).toHaveText(['There already', 'Renamed']);
  });

  await test.step('with the past, pieces, and the choices that were not made there', async () => {
    await there.button('Renamed', 'Versions').click();
    await there.dialog.getByText(/^Every edit/).click();
    await expect(there.dialog.locator('ol > li')).toHaveText([/Renamed/, /opened from/]);
    await there.dialog.getByRole('button', { name: 'Close' }).click();
    expect(await theme(there.page)).toBe('light');
    const sound = there.page.evaluate(() => localStorage.getItem('gripwright-sound'));
    expect(await sound).toBe('{"level":0.4}');
    await there.page.goto('arrange/kept');
    await there.page.getByRole('link', { name: 'Shed song' }).click();
    await expect(there.page.getByRole('textbox', { name: 'Title' })).toHaveValue('Shed song');
  });

  await test.step('opened once more, it is here already', async () => {
    await there.open();
    await there.drop([{ name: 'all.json', content }]);
    await expect(there.answers.first()).toContainText('0 restored');
    await expect(there.answers.first()).toContainText('2 here already');
    await expect(there.names).toHaveText(['There already', 'Renamed']);
  });
  await another.close();
});

test('what was here at the last visit and is gone is told, until that is read', async ({
  page,
}) => {
  const shelf = new ShelfPage(page);
  await shelf.open();
  await shelf.drop([
    { name: 'a.json', content: fileOf('Stays') },
    { name: 'b.json', content: fileOf('Goes') },
  ]);
  await expect(shelf.names).toHaveCount(2);
  // as a browser does that clears what it keeps, but for one
  await page.goto('icon.svg');
  await page.evaluate(async () => {
    const opened = await new Promise<IDBDatabase>((done) => {
      const request = indexedDB.open('gripwright');
      request.onsuccess = () => done(request.result);
    });
    const transaction = opened.transaction(['entries', 'steps'], 'readwrite');
    const entries = transaction.objectStore('entries');
    const all = await new Promise<{ id: string; name: string }[]>((done) => {
      const request = entries.getAll() as IDBRequest<{ id: string; name: string }[]>;
      request.onsuccess = () => done(request.result);
    });
    const { id = '' } = all.find(({ name }) => name === 'Goes') ?? {};
    entries.delete(id);
    transaction.objectStore('steps').delete(IDBKeyRange.bound([id, 0], [id, Infinity]));
    await new Promise<void>((done) => {
      transaction.oncomplete = () => done();
    });
    opened.close();
  });
  const alert = page.getByRole('alert').filter({ hasText: 'Not on this device any more' });
  await page.goto('');
  await expect(alert).toContainText('“Goes”');
  await expect(alert).not.toContainText('Stays');
  // not read yet: it is told again
  await page.reload();
  await expect(alert).toContainText('“Goes”');
  await alert.getByRole('button', { name: 'Dismiss' }).click();
  await expect(alert).toHaveCount(0);
  await shelf.open();
  await expect(shelf.names).toHaveText(['Stays']);
  await expect(alert).toHaveCount(0);
});

test('what is deleted by the player is not said to be missing', async ({ page }) => {
  const shelf = new ShelfPage(page);
  await shelf.open();
  await shelf.drop([{ name: 'a.json', content: fileOf('Thrown away') }]);
  await expect(shelf.names).toHaveText(['Thrown away']);
  await shelf.button('Thrown away', 'Delete').click();
  await shelf.page.getByText('Deleted (1)').click();
  page.once('dialog', (dialog) => void dialog.accept());
  await shelf.page.getByRole('button', { name: 'Delete for good' }).click();
  await expect(shelf.page.getByText('is deleted for good')).toBeVisible();
  await shelf.open();
  await expect(page.getByText('Not on this device any more')).toHaveCount(0);
});
