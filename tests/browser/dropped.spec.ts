/** Files that are dropped on a place: the Bench opens them, and no place lets the browser leave the page. */
import { expect, keptPageTest as test } from './page';
import { ShelfPage, fileOf } from './shelfPage';

test('a setup dropped on the Bench is opened there, and kept', async ({ page }) => {
  await page.goto('bench/');
  await expect(page.getByRole('grid')).toBeVisible();
  const shelf = new ShelfPage(page);
  // the chart is in sight before the page listens
  await expect(async () => {
    await shelf.drop([{ name: 'x.json', content: fileOf('Dropped') }]);
    await expect(page.getByRole('heading', { level: 1 })).toHaveText('Dropped', { timeout: 1000 });
  }).toPass();
  await expect(page).toHaveURL(/bench\/\?setup=kept-/);
  await shelf.drop([{ name: 'y.json', content: '{' }]);
  await expect(page.getByText('y.json')).toBeVisible();
  await expect(page.getByRole('heading', { level: 1 })).toHaveText('Dropped');
});

test('a setup dropped anywhere else can be looked at, and the page stays', async ({ page }) => {
  const shelf = new ShelfPage(page);
  for (const place of ['', 'change/', 'compare/', 'bench/strings/', 'sheet/']) {
    await page.goto(place);
    await expect(page.getByRole('link', { name: 'Gripwright' })).toBeVisible();
    const stays = (): Promise<boolean[]> =>
      page.evaluate(() => {
        const dataTransfer = new DataTransfer();
        dataTransfer.items.add(new File(['x'], 'x.txt'));
        const options = { bubbles: true, cancelable: true, dataTransfer };
        // a browser leaves for the file unless it is told not to
        return ['dragover', 'drop'].map(
          (type) => !document.body.dispatchEvent(new DragEvent(type, options)),
        );
      });
    // before the page's script has come nothing can be told
    await expect.poll(stays).toEqual([true, true]);
    await expect(page.getByText('cannot be opened here')).toBeVisible();
  }
  await shelf.drop([{ name: 'x.json', content: fileOf('Dropped') }]);
  await page.getByRole('link', { name: 'Look at it' }).click();
  await expect(page.getByRole('heading', { level: 1 })).toHaveText('Dropped');
});
