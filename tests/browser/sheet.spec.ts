/** The bench sheet: seen, saved, printed. */
import { readFileSync } from 'node:fs';
import { type Download } from '@playwright/test';
import { expect, keptPageTest as test } from './page';
import { hasPoppler, printPressed, printed } from './printed';

// each is a walk of many steps in one page
test.describe.configure({ timeout: 120_000 });

async function bytesOf(download: Download): Promise<Buffer> {
  return readFileSync(await download.path());
}

test('is reached and saved from the bench, keeps its paper, and fits a phone', async ({ page }) => {
  await test.step('is reached from the bench, for the setup that is there', async () => {
    await page.goto('bench/?setup=universal12');
    await page.getByRole('button', { name: 'Setup actions' }).click();
    await page.getByRole('button', { name: 'Print', exact: true }).click();
    await page.getByRole('link', { name: 'Preview' }).click();
    await expect(page.getByRole('link', { name: 'Sheet', exact: true })).toHaveAttribute(
      'aria-current',
      'page',
    );
    // open strings of the universal twelve: tunings of the trade
    await expect(page.locator('svg text', { hasText: 'G♯2' })).toBeVisible();
    await expect(page).toHaveURL(/\/sheet\/\?setup=universal12$/);
  });

  await test.step('is saved from the bench itself', async () => {
    await page.goto('bench/?setup=c6');
    await page.getByRole('button', { name: 'Setup actions' }).click();
    await page.getByRole('button', { name: 'Print', exact: true }).click();
    const [pdf] = await Promise.all([
      page.waitForEvent('download'),
      page.getByRole('button', { name: 'Save PDF' }).click(),
    ]);
    expect((await bytesOf(pdf)).toString('latin1', 0, 8)).toBe('%PDF-1.7');
  });

  await test.step('keeps the paper in the address, and Back returns to the other one', async () => {
    await page.goto('sheet/?setup=c6&paper=A4');
    const paper = page.getByRole('combobox', { name: 'Paper' });
    await expect(paper).toHaveValue('A4');
    await paper.selectOption('Letter');
    await expect(page).toHaveURL(/paper=Letter/);
    // 8.5 by 11 inches in millimetres, lying on its side or upright
    await expect(page.locator('main svg').first()).toHaveAttribute('viewBox', /215\.9/);
    await page.goBack();
    await expect(paper).toHaveValue('A4');
  });

  await test.step('is saved as PDF and as SVG, named after the setup', async () => {
    await page.goto('sheet/?setup=lap6-c6&paper=A4');
    const [pdf] = await Promise.all([
      page.waitForEvent('download'),
      page.getByRole('button', { name: 'Save PDF' }).click(),
    ]);
    expect(pdf.suggestedFilename()).toMatch(/^[\p{L}\p{N}-]+\.pdf$/u);
    expect((await bytesOf(pdf)).toString('latin1', 0, 8)).toBe('%PDF-1.7');
    const [svg] = await Promise.all([
      page.waitForEvent('download'),
      page.getByRole('button', { name: 'Save SVG' }).click(),
    ]);
    expect(svg.suggestedFilename()).toMatch(/\.svg$/);
    const text = (await bytesOf(svg)).toString();
    expect(text).toContain('<svg xmlns="http://www.w3.org/2000/svg"');
    expect(text).toContain('>E4</text>');
  });

  await test.step('of a setup that is not there says so', async () => {
    await page.goto('sheet/?setup=nobodys');
    await expect(page.getByRole('alert')).toContainText(
      'There is no setup “nobodys” on this device.',
    );
  });

  await test.step('fits a phone', async () => {
    await page.setViewportSize({ width: 360, height: 740 });
    await page.goto('sheet/?setup=double');
    await expect(page.locator('main svg').first()).toBeVisible();
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(
      360,
    );
  });
});

test.describe('on paper', () => {
  test.skip(!hasPoppler, 'Poppler reads what was printed');

  for (const [paper, size] of [
    ['A4', '595 x 842'],
    ['Letter', '612 x 792'],
  ] as const)
    test(`${paper} carries the sheet alone, on one page`, async ({ page }) => {
      await page.goto(`sheet/?paper=${paper}`);
      await expect(page.locator('main svg')).toBeVisible();
      for (const { text, sizes } of [await printed(page), await printPressed(page)]) {
        expect(
          sizes.map((each) => each.replace(/\d+\.\d+/g, (n) => String(Math.round(+n)))),
        ).toEqual([size]);
        expect(text).toContain('F♯4');
        expect(text).toContain('D / C♯');
        // nothing of the page around it
        expect(text).not.toMatch(/Explore|Save PDF|Gripwright/);
      }
    });

  test('a double neck takes its pages across', async ({ page }) => {
    await page.goto('sheet/?setup=double&paper=A4');
    await expect(page.locator('main svg').first()).toBeVisible();
    const { text, sizes } = await printPressed(page);
    expect(sizes.length).toBe(await page.locator('main svg').count());
    for (const size of sizes) expect(size).toMatch(/^84[12].* x 59[456]/);
    expect(text.split('\f').filter((each) => each.trim() !== '').length).toBe(sizes.length);
    await page.evaluate(() => dispatchEvent(new Event('afterprint')));
    await expect(page.locator('body > .papers')).toHaveCount(0);
  });
});
