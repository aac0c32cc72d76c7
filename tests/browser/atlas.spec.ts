/** The atlas: the whole instrument on one sheet. Where the chords lie on E9 is common practice. */
import { type Page } from '@playwright/test';
import { expect, keptPageTest as test } from './page';

// each is a walk of many steps in one page
test.describe.configure({ timeout: 120_000 });

const grid = (page: Page) => page.getByRole('grid', { name: /^Atlas/ });
const cell = (page: Page, name: string | RegExp) => grid(page).getByRole('gridcell', { name });
/** The first atlas of a visit waits for the whole search to be loaded. */
const drawn = (page: Page) =>
  expect(grid(page).getByRole('gridcell').first()).toBeVisible({ timeout: 30_000 });
const atlasButton = (page: Page) => page.getByRole('button', { name: 'Atlas', exact: true });

test('opens from Explore, is drawn as far as it is seen, and what is found in it is held', async ({
  page,
  gripwright,
}) => {
  await test.step('opens from Explore, holds the address, and Back returns to the rows', async () => {
    await gripwright.open();
    await atlasButton(page).click();
    await drawn(page);
    await expect(page).toHaveURL(/\?view=atlas$/);
    await expect(gripwright.rows).toHaveCount(0);
    await page.goBack();
    await expect(gripwright.rows.first()).toBeVisible();
    await expect(grid(page)).toHaveCount(0);
    await page.goForward();
    await expect(grid(page)).toBeVisible();
  });

  await test.step('a cell lays bar, controls and grip on the table', async () => {
    // A and B at fret 3 is C: marked
    await cell(page, /^C major, fret 3, A and B, the chord you look for/).click();
    await gripwright.expectFret(3);
    await gripwright.expectName('C major');
    await expect(gripwright.control('A')).toHaveAttribute('aria-pressed', 'true');
    await expect(gripwright.control('B')).toHaveAttribute('aria-pressed', 'true');
    await expect(cell(page, /fret 3, A and B,/)).toHaveAttribute('aria-current', 'true');
    // what is not the wanted chord is taken all the same: A at fret 0 is C♯ minor
    await cell(page, /^C sharp minor, open strings, A$/).click();
    await gripwright.expectFret(0);
    await gripwright.expectName('C sharp minor');
    // a reload shows the same
    await expect(page).toHaveURL(/at=0/);
    await page.reload();
    await drawn(page);
    await expect(cell(page, /^C sharp minor, open strings, A$/)).toHaveAttribute(
      'aria-current',
      'true',
    );
  });

  await test.step('is gone through with the keys, to its far corner and back, and taken with Enter', async () => {
    await gripwright.open('?view=atlas');
    await drawn(page);
    const held = grid(page).locator('[aria-current="true"]');
    await held.focus();
    // fret 8 with nothing engaged; one to the right, one down: LKL at fret 9
    await page.keyboard.press('ArrowRight');
    await page.keyboard.press('ArrowDown');
    await expect(page.locator(':focus')).toHaveAccessibleName(/, fret 9, LKL$/);
    await page.keyboard.press('Control+End');
    await expect(page.locator(':focus')).toHaveAccessibleName(/, fret 24, /);
    const rowCount = Number(await grid(page).getAttribute('aria-rowcount'));
    await expect(
      page.locator('[role="row"]').filter({ has: page.locator(':focus') }),
    ).toHaveAttribute('aria-rowindex', String(rowCount));
    await page.keyboard.press('Control+Home');
    await expect(page.locator(':focus')).toHaveAccessibleName(
      /^E major, open strings, nothing engaged/,
    );
    await page.keyboard.press('Enter');
    await gripwright.expectFret(0);
    await gripwright.expectName('E major');
    // one stop of Tab
    await page.keyboard.press('Tab');
    await expect(grid(page).locator(':focus')).toHaveCount(0);
  });

  await test.step('shows one grip alone, and follows the strings that are picked', async () => {
    await gripwright.open('?view=atlas&grips=held&at=8&strings=4,5,6');
    await drawn(page);
    await expect(
      cell(page, /^C major over G, fret 8, nothing engaged|^C major, fret 8, nothing/),
    ).toBeVisible();
    // RKR moves strings 2 and 9 alone
    await expect(grid(page).getByRole('rowheader', { name: 'RKR', exact: true })).toHaveCount(0);
    const before = await grid(page).getAttribute('aria-rowcount');
    await gripwright.string(2).click();
    await expect(grid(page).getByRole('rowheader', { name: 'RKR', exact: true })).toHaveCount(1);
    expect(await grid(page).getAttribute('aria-rowcount')).not.toBe(before);
  });

  await test.step('shows degrees where a key is set', async () => {
    await gripwright.open('?view=atlas');
    await drawn(page);
    const cells = page.getByRole('combobox', { name: 'Cells' });
    await expect(cells).toHaveCount(0);
    await gripwright.key.fill('C');
    await gripwright.key.press('Enter');
    await cells.selectOption('degrees');
    // nothing pressed at fret 3 is G, the fifth degree
    await expect(cell(page, /^five major, fret 3, nothing engaged/)).toHaveText('V');
    await expect(page).toHaveURL(/cells=degrees/);
  });
});

test('draws only the rows that are in view, and fits a phone', async ({ page, gripwright }) => {
  await test.step('draws only the rows that are in view', async () => {
    await gripwright.open('?view=atlas&setup=universal12');
    await drawn(page);
    const rows = grid(page).getByRole('row');
    expect(await rows.count()).toBeLessThan(60);
    expect(Number(await grid(page).getAttribute('aria-rowcount'))).toBeGreaterThan(100);
    await grid(page)
      .locator('..')
      .evaluate((sheet) => sheet.scrollTo(0, sheet.scrollHeight));
    await expect(grid(page).locator('[aria-rowindex="161"]')).toBeVisible();
  });

  await test.step('fits a phone without moving the page sideways', async () => {
    await page.setViewportSize({ width: 360, height: 740 });
    await gripwright.open('?view=atlas');
    await drawn(page);
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(
      360,
    );
    const box = await cell(page, /./).first().boundingBox();
    expect(box?.height).toBeGreaterThanOrEqual(44);
    expect(box?.width).toBeGreaterThanOrEqual(44);
  });
});
