/**
 * The page Tuning: targets by every method, side by side, typed, heard, taken over, printed. Just
 * intervals: 5/4 lies 13.69 cents below, 3/2 lies 1.96 cents above their equal-tempered likes.
 */
import { type Locator, type Page } from '@playwright/test';
import { expect, keptPageTest as test } from './page';
import { onPaper } from './printed';

// each is a walk of many steps in one page
test.describe.configure({ timeout: 120_000 });

const targets = (page: Page): Locator => page.getByRole('table', { name: 'Tuning targets' });
/** The row of a string open, or of a control on it. */
const target = (page: Page, string: number, control = 'open'): Locator =>
  targets(page)
    .getByRole('row')
    .filter({ has: page.getByRole('rowheader', { name: String(string), exact: true }) })
    .filter({ has: page.getByRole('cell', { name: control, exact: true }) });
const method = (page: Page): Locator => page.getByRole('combobox', { name: 'Method' });

const open = async (page: Page, query = ''): Promise<void> => {
  await page.goto(`bench/tuning/${query}`);
  await expect(targets(page)).toBeVisible({ timeout: 20_000 });
};

test('a tuning is fitted, refused, compared, and moved to another reference', async ({ page }) => {
  await test.step('fitted to one chord, its third and fifth are pure', async () => {
    await open(page);
    await page.getByRole('button', { name: 'Options' }).click();
    await page.getByRole('textbox', { name: 'Chords to tune for' }).fill('E');
    await page.getByRole('textbox', { name: 'Chords to tune for' }).press('Enter');
    // open strings 4, 5 and 6 are E, B and G♯
    await expect(target(page, 6)).toContainText('−13.7');
    await expect(target(page, 5)).toContainText('+2.0');
    await expect(target(page, 4)).toContainText('0.0');
    await expect(page).toHaveURL(/chords=E/);
  });

  await test.step('a chord that cannot be read is told at its field', async () => {
    const field = page.getByRole('textbox', { name: 'Chords to tune for' });
    await field.fill('Hx');
    await field.press('Enter');
    await expect(field).toHaveAttribute('aria-invalid', 'true');
    await expect(page.getByText(/“Hx”/)).toBeVisible();

    // German H is B here: the reading is one press away
    await field.fill('E H7');
    await field.press('Enter');
    await page.getByRole('button', { name: 'B7', exact: true }).click();
    await expect(field).toHaveValue('E B7');
    await expect(field).not.toHaveAttribute('aria-invalid', 'true');
  });

  await test.step('one tuning stands beside another, with what lies between them', async () => {
    await open(page, '?method=just&chords=E');
    await page.getByRole('button', { name: 'Options' }).click();
    await page
      .getByRole('combobox', { name: 'Compare with' })
      .selectOption({ label: 'Equal temperament' });
    await expect(targets(page).getByRole('columnheader', { name: 'Difference' })).toBeVisible();
    // so tuned, hertz, equal, difference
    await expect(target(page, 6).getByRole('cell')).toContainText([
      '−13.7',
      '206.0',
      '0.0',
      '−13.7',
    ]);
  });

  await test.step('another reference pitch moves every hertz and no cent', async () => {
    await open(page, '?method=equal');
    await expect(target(page, 4)).toContainText('329.63');
    await page.getByRole('button', { name: 'Options' }).click();
    const reference = page.getByRole('textbox', { name: 'A4 in Hz' });
    await reference.fill('442');
    await reference.press('Enter');
    await expect(target(page, 4)).toContainText('331.13');
    await reference.fill('9000');
    await reference.press('Enter');
    await expect(reference).toHaveAttribute('aria-invalid', 'true');
  });
});

test('targets are taken over, typed, refused with a reason, and taken back', async ({ page }) => {
  await open(page, '?chords=E');
  await page.getByRole('button', { name: 'Apply to the setup' }).click();
  await expect(page.getByText('A copy is kept on this device')).toBeVisible();
  await method(page).selectOption({ label: 'Saved in the setup' });
  const cents = targets(page).getByRole('textbox', {
    name: 'Cents of String 6, open',
    exact: true,
  });
  await expect(cents).toHaveValue('−13.7');
  await cents.fill('-12.5');
  await cents.press('Enter');
  await expect(target(page, 6)).toContainText('206.1');
  await cents.fill('low');
  await cents.press('Enter');
  await expect(cents).toHaveAttribute('aria-invalid', 'true');
  await page.reload();
  await expect(cents).toHaveValue('−12.5');
});

test('a measured drop is entered where it is measured, and is counted', async ({ page }) => {
  await open(page);
  await page.getByText('Cabinet drop').click();
  await page.getByRole('combobox', { name: 'With' }).selectOption('A');
  const field = page.getByRole('textbox', { name: /^String 4, E4/ });
  await field.fill('3');
  await field.press('Enter');
  await expect(page.getByText('Cabinet drop (1 measured)')).toBeVisible();
  await expect(page.getByText('A copy is kept on this device')).toBeVisible();
});

test('a split, a note that no chord decides, sound and paper', async ({ page }) => {
  await test.step('a split says how far off it comes out, and has a step where the changer has a stop', async () => {
    await open(page, '?method=equal');
    // f²(split) = f²(raise) + f²(lower) − f²(open): two up and one down come out at 121.6 cents
    await expect(
      page.getByText(/^String 5 with A and LKV sounds C4 21\.6 cents sharp/),
    ).toBeVisible();
    await expect(target(page, 5, 'A+LKV')).toContainText('+21.6');
    await page.goto('bench/');
    await page.getByRole('checkbox', { name: /^Split stops/ }).check();
    await page.getByRole('link', { name: 'Tuning' }).click();
    await expect(page).toHaveURL(/tuning/);
    await method(page).selectOption('equal');
    await expect(target(page, 5, 'A and LKV')).toContainText('0.0');
    await expect(page.getByRole('combobox', { name: 'Go to' })).toContainText('5 + A + LKV → C4');
  });

  await test.step('what no chord decides is marked, and the tuner asks for it', async () => {
    await open(page, '?method=just&chords=C');
    const row = targets(page)
      .getByRole('row')
      .filter({ has: page.getByRole('rowheader', { name: '10', exact: true }) })
      .filter({ hasText: 'LKV' })
      .filter({ hasText: 'undecided' });
    await expect(row).toContainText('undecided: equal temperament');
    await page.getByRole('combobox', { name: 'Go to' }).selectOption({ label: '5 + LKV → B♭3' });
    await expect(
      page.getByText(/^No chord decides this; tuned to 0\.0, equal temperament/),
    ).toBeVisible();
    const field = page.getByRole('textbox', { name: 'Target of string 5 with LKV' });
    await field.fill('-7');
    await field.press('Enter');
    // its like note on string 10 goes along: A♯2 is 116.54 Hz, × 2^(−7/1200)
    await expect(row).toContainText('116.07');
    await expect(row).toContainText('undecided: chosen by you');
  });

  await test.step('targets and chords are heard', async () => {
    await open(page);
    await page.getByRole('button', { name: 'Hear String 4, open', exact: true }).click();
    await page
      .getByRole('button', { name: /^Hear C .*so tuned$/ })
      .first()
      .click();
    await expect(page.getByRole('alert')).toHaveCount(0);
  });

  await test.step('on paper it has targets and cautions, and no fields', async () => {
    await open(page, '?chords=E');
    await expect(target(page, 6)).toContainText('−13.7');
    const text = await onPaper(page);
    // which setup it is, is said in words where its field is not
    expect(text).toContain('E9, three pedals and five levers');
    expect(text).toMatch(/G♯3\s+−13\.7\s+206\.0/);
    expect(text).toMatch(/eye\s+protection/);
    expect(text).not.toContain('Chords to tune for');
  });
});
