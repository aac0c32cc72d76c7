/**
 * Will it bear it? The page Strings and rigging, and the warnings where a setup is changed. The wire
 * is that of the A228 table; a G♯4 of eleven thousandths raised to A at about 88 % is everyday practice.
 */
import { type Locator, type Page } from '@playwright/test';
import { BenchPage } from './benchPage';
import { expect, keptPageTest as test } from './page';
import { onPaper } from './printed';
import { fileOf, ShelfPage } from './shelfPage';

// each is a walk of many steps in one page
test.describe.configure({ timeout: 120_000 });

const bears = (page: Page): Locator => page.getByRole('region', { name: 'String strength' });
const row = (page: Page, string: number): Locator =>
  bears(page)
    .getByRole('row')
    .filter({ has: page.getByRole('rowheader', { name: `${string}` }) });
const warnings = (page: Page): Locator => page.getByRole('list', { name: 'Strings', exact: true });
const advice = (page: Page): Locator => page.getByRole('region', { name: 'Suitable gauges' });

const open = async (page: Page, query = ''): Promise<void> => {
  await page.goto(`bench/strings/${query}`);
  await expect(bears(page)).toBeVisible();
};

test.describe('strings and rigging', () => {
  test('strings and rigging: what holds, what breaks first, bands, and paper', async ({ page }) => {
    await test.step('do not cry wolf over everyday gauges, and tell them apart by share', async () => {
      await open(page);
      await expect(bears(page)).toContainText('Every string with figures holds');
      await expect(row(page, 3).first()).toContainText(/8[5-9] % at A4/);
      await expect(warnings(page)).toHaveCount(0);
      await expect(page.getByRole('complementary', { name: 'Take care' })).toContainText(
        'eye protection',
      );
    });

    await test.step('are printed with their cautions', async () => {
      await expect(row(page, 3).first()).toBeVisible();
      const text = await onPaper(page);
      expect(text).toContain('G♯4');
      expect(text).toMatch(/eye\s+protection/);
      expect(text).toMatch(/qualified\s+instrument\s+technician/);
      // and what can only be pressed is left on the screen
      expect(text).not.toContain('Measured on the instrument');
    });

    await test.step('say which breaks first, and why, and go by how often a control is used', async () => {
      // common practice of the trade, from memory: the G♯ of an E9 neck breaks first
      await expect(bears(page)).toContainText('The first to wear out is string 3.');
      // the table of loads says the same in the same words
      await expect(row(page, 3).first()).toContainText('holds, first to wear');
      const first = page.getByRole('list', { name: 'Which breaks first' }).getByRole('listitem');
      await expect(first).toHaveCount(10);
      await expect(first.first()).toContainText(/String 3 .*14 % of its strength left over/);
      await page.getByText('Measured on the instrument').click();
      await page.getByText('Forces, springs, slack and use').click();
      const use = page.getByRole('textbox', { name: /^Use of C/ });
      await use.fill('5');
      await use.press('Enter');
      // C pulls string 4, which had little more to bear
      await expect(first.first()).toContainText('String 4');
      await expect(row(page, 4).first()).toContainText('holds, first to wear');
    });

    await test.step('draw the bands where the player sets them, and the address keeps them', async () => {
      await open(page);
      await bears(page).getByText('Limits').click();
      await bears(page).getByRole('spinbutton', { name: 'Close to breaking from' }).fill('80');
      await bears(page).getByRole('spinbutton', { name: 'Close to breaking from' }).press('Enter');
      await expect(warnings(page)).toContainText('String 3 (G♯4, .011) raised to A4');
      await expect(page).toHaveURL(/near=80/);
      await page.reload();
      await expect(warnings(page)).toContainText('close to breaking');
    });
  });

  test('take a suiting gauge over into a copy, and back', async ({ page }) => {
    await open(page);
    await advice(page).getByRole('button', { name: '.012 for string 3', exact: true }).click();
    await expect(page.getByText('A copy is kept on this device')).toBeVisible();
    await expect(row(page, 3).first()).toContainText('.012');
    // a thicker wire of one strength bears the same note at the same share, but pulls harder
    await expect(row(page, 3).first()).toContainText('147 N');
    await page.getByRole('button', { name: 'Undo', exact: true }).click();
    await expect(row(page, 3).first()).toContainText('.011');
  });

  test('ask for what only the player knows, and refuse what no instrument has', async ({
    page,
  }) => {
    await open(page);
    await page.getByText('Measured on the instrument').click();
    const way = page.getByRole('textbox', { name: /^Travel of A/ });
    await way.fill('40');
    await way.press('Enter');
    // 129 mJ over 40 mm: 3.2 N of the strings; a tenth of slack makes 3.6 of it, a spring of 7 N and a
    // quarter of friction 13.2
    const does = page.getByRole('region', { name: 'Pull lengths and effort' });
    await expect(does.getByText(/13\.2 N/)).toBeVisible();
    await expect(does).toContainText('strings 3.2, slack 0.4, springs 7.0, friction 2.6');
    await page.getByText('Forces, springs, slack and use').click();
    const force = page.getByRole('textbox', { name: /^Force of A/ });
    await force.fill('16');
    await force.press('Enter');
    await expect(does.getByText('16.0 N measured')).toBeVisible();
    await way.fill('-3');
    await way.press('Enter');
    await expect(way).toHaveAttribute('aria-invalid', 'true');
  });

  test('say what is missing where no gauge is told, and give the rest', async ({ page }) => {
    const shelf = new ShelfPage(page);
    await shelf.open();
    await shelf.drop([{ name: 'bare.json', content: fileOf('Bare wire') }]);
    await expect(shelf.names.first()).toHaveText('Bare wire');
    await page.goto('bench/');
    await open(page);
    await page.getByRole('combobox', { name: 'Setup', exact: true }).selectOption('Bare wire');
    await expect(bears(page)).toContainText('No gauge is entered');
    await expect(advice(page).getByRole('button').first()).toBeVisible();
  });
});

test.describe('a pull that no string bears is told where it is made', () => {
  test('in the chart of the bench', async ({ page }) => {
    const bench = new BenchPage(page);
    await bench.open();
    await expect(warnings(page)).toHaveCount(0);
    await bench.type(bench.cell('B', 3), '4');
    await expect(warnings(page)).toContainText(
      /String 3 \(G♯4, \.011\) raised to C5 stands at 1\d\d % .*likely to break/,
    );
    await expect(bench.did).toContainText('qualified instrument technician');
    await bench.undo.click();
    await expect(warnings(page)).toHaveCount(0);
  });

  test('in a change that is proposed', async ({ page }) => {
    await page.goto('change/?with=LKV:3%2B3');
    await expect(warnings(page)).toContainText('String 3 (G♯4, .011) raised to B4');
    await page.getByRole('button', { name: 'Discard' }).click();
    await expect(warnings(page)).toHaveCount(0);
  });

  test('in a comparison, beside the setup that has it', async ({ page }) => {
    test.setTimeout(120_000);
    const shelf = new ShelfPage(page);
    await shelf.open();
    const strings = [{ open: 'G#4', gauge: 0.011 }, { open: 'E4', gauge: 0.014 }, { open: 'B3' }];
    const pulls = [{ string: 1, semitones: 4 }];
    const tight = fileOf('Tight', {
      necks: [{ name: 'G', strings }],
      controls: [{ id: 'A', station: 'P1', pulls }],
    });
    await shelf.drop([{ name: 'tight.json', content: tight }]);
    await expect(shelf.names.first()).toHaveText('Tight');
    await page.goto('compare/');
    await page.getByRole('combobox', { name: 'Second setup' }).selectOption('Tight');
    const told = page.getByRole('region', { name: 'String strength' });
    await expect(told).toContainText('String 1 (G♯4, .011) raised to C5', { timeout: 60_000 });
    await expect(told.getByRole('heading', { level: 3 })).toHaveCount(2);
  });
});
