/** Practice walked once: a first round by key and by touch, kept, undone, on a phone. */
import { expectNoObjection } from './axe';
import { expect, keptPageTest as test } from './page';

test('a round is begun, answered on the neck and by key, kept over a reload, and taken back', async ({
  page,
}) => {
  await page.setViewportSize({ width: 360, height: 780 });
  await page.goto('practice/');
  await expect(page.getByRole('heading', { name: /ten positions at a time/ })).toBeVisible();
  await expectNoObjection(page);
  await page.getByRole('button', { name: 'Begin the first round' }).click();
  // E9: at fret 3 strings 3, 4 and 5 sound B, G and D
  // the button is gone, and whoever goes by keys goes on at the question
  await expect(
    page.getByRole('heading', { name: 'Find G with B on top, between fret 1 and fret 5.' }),
  ).toBeFocused();
  expect(await page.evaluate(() => document.documentElement.scrollWidth <= window.innerWidth)).toBe(
    true,
  );
  const bar = page.getByRole('slider');
  await bar.focus();
  await bar.press('ArrowRight');
  await bar.press('ArrowRight');
  for (const string of [3, 4, 5])
    await page.getByRole('button', { name: new RegExp(`^String ${string},`) }).press('Enter');
  await page.getByRole('button', { name: 'Check' }).press('Enter');
  await expect(page.getByText('Right.', { exact: true })).toBeVisible();
  await expectNoObjection(page);
  await page.getByRole('button', { name: 'Next' }).click();
  await page.getByRole('button', { name: 'Show me' }).click();
  await expect(page.getByText('1 of 2 right')).toBeVisible();
  await page.getByRole('button', { name: 'End', exact: true }).click();
  await expect(page.getByRole('figure', { name: /2 answers, 1 of them right/ })).toBeVisible();
  await page.reload();
  await expect(page.getByRole('figure', { name: /2 answers, 1 of them right/ })).toBeVisible();
  await page.getByRole('button', { name: 'Undo' }).click();
  await expect(page.getByRole('heading', { name: /ten positions at a time/ })).toBeVisible();
});
