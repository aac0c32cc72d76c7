/** Two tabs with one document: edits in the same instant, and of the same place. */
import { type BrowserContext, type Locator, type Page } from '@playwright/test';
import { BenchPage } from './benchPage';
import { expect, keptPageTest as test } from './page';
import { race } from './racing';
import { ShelfPage, fileOf } from './shelfPage';

test.describe.configure({ timeout: 120_000 });

/** A tab that hears nothing of the others, as where a browser has put it to sleep. */
async function deafTab(context: BrowserContext): Promise<Page> {
  const page = await context.newPage();
  await page.addInitScript(() => Reflect.deleteProperty(window, 'BroadcastChannel'));
  return page;
}
const answer = (page: Page, name: string): Locator =>
  page.getByRole('button', { name, exact: true });

test('edits of different cells in the same instant are both there', async ({ context }) => {
  const { rounds, met } = await race(context, 2);
  console.log(`${rounds} rounds, in ${met} of which the writes met`);
});

test('a cell that two tabs changed is asked about, and both readings are kept', async ({
  page,
  context,
}) => {
  const shelf = new ShelfPage(page);
  await shelf.open();
  await shelf.drop([{ name: 'x.json', content: fileOf('Shared') }]);
  const href = await page.getByRole('link', { name: 'Shared' }).getAttribute('href');
  const query = new URL(href ?? '', page.url()).search;
  const here = new BenchPage(page);
  const there = new BenchPage(await deafTab(context));
  await here.open(query);
  await there.open(query);
  await here.type(here.cell('A', 1), '+2');
  await expect(page.getByText('Kept on this device', { exact: true })).toBeVisible();
  await there.type(there.cell('A', 1), '+3');

  const asks = there.page
    .getByRole('status')
    .filter({ hasText: 'Another tab changed the same place' });
  await expect(asks.getByRole('row', { name: 'A on string 1' })).toHaveText(
    /A on string 1\s*this tab \+3\s*the other tab \+2/,
  );
  await expect(there.cell('A', 1)).toHaveText(/^\+3/);
  await answer(there.page, 'Take the other tab’s').click();
  await expect(asks).toHaveCount(0);
  await expect(there.cell('A', 1)).toHaveText(/^\+2/);
  await there.undo.click();
  await expect(there.cell('A', 1)).toHaveText(/^\+3/);
  await there.act('Versions');
  await expect(there.page.getByRole('button', { name: /^Back to (another|one) tab/ })).toHaveCount(
    2,
  );
  await answer(there.page, 'Back to another tab: A on string 1 (+2)').click();
  await expect(there.cell('A', 1)).toHaveText(/^\+2/);
});

test('so is a measure of a piece', async ({ page, context }) => {
  const chords = (tab: Page): Locator => tab.getByRole('textbox', { name: /^Chords/ });
  await page.goto(`arrange/?chords=${encodeURIComponent('title: Shed song\nG | C | D7')}`);
  await expect(chords(page)).toHaveValue('G | C | D7');
  await page.getByRole('button', { name: 'Keep on this device' }).click();
  await expect(page).toHaveURL(/progression=kept-/);
  const other = await deafTab(context);
  await other.goto(page.url());
  await expect(chords(other)).toHaveValue('G | C | D7');
  await chords(page).fill('G | F | D7');
  await expect(page.getByText('Kept on this device')).toBeVisible();
  await chords(other).fill('G | Am7 | G7');
  const asks = other.getByRole('status').filter({ hasText: 'Another tab changed the same place' });
  await expect(asks.getByRole('row', { name: 'these measures' })).toHaveText(
    /this tab Am7\s*the other tab F/,
  );
  await answer(other, 'Keep this tab’s').click();
  await expect(asks).toHaveCount(0);
  await expect(chords(other)).toHaveValue('G | Am7 | G7');
  await other.getByRole('button', { name: 'Undo' }).click();
  await expect(chords(other)).toHaveValue('G | F | D7');
});
