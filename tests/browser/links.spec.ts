/** A setup travels in a link: looked at first, kept only on demand. */
import { type Page } from '@playwright/test';
import { expectNoObjection } from './axe';
import { expect, keptPageTest as test, test as freshTest } from './page';
import { ShelfPage, fileOf } from './shelfPage';

/** The link to a small setup, as the page gives it. */
async function linkTo(page: Page, name: string): Promise<string> {
  const shelf = new ShelfPage(page);
  await shelf.open();
  const notes = 'Made in the shed.\nNeeds a new spring.';
  await shelf.drop([{ name: 'x.json', content: fileOf(name, { notes }) }]);
  await shelf.button(name, 'Share').click();
  return shelf.dialog.getByRole('textbox', { name: /^Link/ }).inputValue();
}

test('a link opens as a preview elsewhere, where nothing is kept by only looking', async ({
  page,
  browser,
}) => {
  const link = await linkTo(page, 'Shed');
  expect(new URL(link).pathname).toMatch(/\/open\/$/);
  const elsewhere = await browser.newContext();
  const other = await elsewhere.newPage();
  const asked: string[] = [];
  other.on('request', (request) => asked.push(request.url()));
  await other.goto(link);
  await expect(other.getByRole('heading', { level: 1 })).toHaveText('Shed');
  await expect(other.getByText('Needs a new spring.')).toBeVisible();
  // open strings D, B, G; pedal A raises the B by a semitone, which is C
  await expect(other.getByText('D B G', { exact: true })).toBeVisible();
  await expect(other.getByText('2 B → C', { exact: true })).toBeVisible();
  await expect(other.getByText('string 2 from B to C', { exact: true })).toBeAttached();
  await expectNoObjection(other);
  // what stands behind the # is sent to nobody
  expect(
    asked.filter((url) => url.includes(link.split('#')[1] ?? '?') && !url.includes('#')),
  ).toEqual([]);

  const shelf = new ShelfPage(other);
  await shelf.open();
  await expect(shelf.items).toHaveCount(0);

  await other.goto(link);
  // pressed twice in a hurry, it is kept once
  await other.getByRole('button', { name: 'Keep it here' }).dblclick();
  await expect(other).toHaveURL(/\?setup=kept-/);
  await shelf.open();
  await expect(shelf.names).toHaveText(['Shed']);
  await elsewhere.close();
});

test('Explore without keeping lasts as long as the tab', async ({ page, browser, gripwright }) => {
  const link = await linkTo(page, 'Shed');
  await page.goto('bench/setups/');
  const elsewhere = await browser.newContext();
  const other = await elsewhere.newPage();
  await other.goto(link);
  await other.getByRole('button', { name: 'Explore without keeping' }).click();
  await expect(other).toHaveURL(/\?setup=lent-/);
  await expect(other.getByRole('button', { name: /^String 2, B 3/ })).toBeVisible();
  await other.reload();
  await expect(other.getByRole('button', { name: /^String 2, B 3/ })).toBeVisible();
  const address = other.url();
  const shelf = new ShelfPage(other);
  await shelf.open();
  await expect(shelf.items).toHaveCount(0);
  await elsewhere.close();
  // the same address in another tab
  await gripwright.open(new URL(address).search);
  await expect(page.getByRole('alert')).toContainText('only looked at');
});

test('a link that was cut short, changed, or made by a newer program says so', async ({ page }) => {
  const link = await linkTo(page, 'Shed');
  const refused = async (address: string, sentence: RegExp): Promise<void> => {
    await page.goto(address);
    await expect(page.getByRole('alert')).toHaveText(sentence);
    await expect(page.getByRole('heading', { level: 1 })).toHaveText(
      'A link that cannot be opened',
    );
  };
  await refused(link.slice(0, -5), /cut short or changed/);
  await expectNoObjection(page);
  await refused(link.replace('#1.setup.', '#2.setup.'), /format 2.*A newer Gripwright opens it/);
  await refused(
    link.replace(/.$/, (last) => (last === 'A' ? 'B' : 'A')),
    /cut short or changed/,
  );
  await refused(link.replace(/#.*/, ''), /carries nothing/);
  await refused(link.replace(/#.*/, '#hello'), /not a link of Gripwright/);
  // and the whole one is read again without a reload
  await page.goto(link);
  await expect(page.getByRole('heading', { level: 1 })).toHaveText('Shed');
});

// leave to copy is given to a whole context
freshTest('the link is copied by a button', async ({ page, context }) => {
  await context.grantPermissions(['clipboard-read', 'clipboard-write']);
  const link = await linkTo(page, 'Shed');
  await page.getByRole('button', { name: 'Copy the link' }).click();
  await expect(page.getByText('The link is copied.')).toBeVisible();
  expect(await page.evaluate(() => navigator.clipboard.readText())).toBe(link);
});

test('a setup file opens in the installed program, and is kept only where that is pressed', async ({
  page,
}) => {
  // what a browser hands over that opens files with installed programs
  await page.addInitScript((text) => {
    const getFile = (): Promise<File> =>
      Promise.resolve(new File([text], 'shed.json', { type: 'application/json' }));
    Object.defineProperty(globalThis, 'launchQueue', {
      value: { setConsumer: (take: (launch: object) => void) => take({ files: [{ getFile }] }) },
    });
  }, fileOf('Shed'));
  await page.goto('open/');
  await expect(page.getByRole('heading', { level: 1 })).toHaveText('Shed');
  await expect(page.getByText('A setup, from a file.')).toBeVisible();
  await page.getByRole('button', { name: 'Keep it here' }).click();
  await expect(page).toHaveURL(/\?setup=kept-/);
});
