/**
 * A player goes on from a chord: its scale, a pocket, a ladder round and round, a passage, and a phrase into a piece,
 * by keyboard where that is another way. Where E9 has its notes is worked out by hand.
 */
import { expectNoObjection } from './axe';
import { expect, keptPageTest as test } from './page';

// a walk of many steps in one page
test.describe.configure({ timeout: 120_000 });

test('from the scale of a chord to a pocket, a ladder, a passage and a phrase', async ({
  page,
  gripwright,
}) => {
  const button = (name: string | RegExp) => page.getByRole('button', { name });
  const shown = page.getByRole('group', { name: 'Shown of the scale' });

  await test.step('the scale under the bar, and a note that one control adds', async () => {
    await gripwright.open('?chord=G&at=3&strings=4,5,6');
    await button('Scale').click();
    await expect(page.getByRole('combobox', { name: 'Scale' })).toBeVisible();
    await expect(button(/^Limits/)).toHaveCount(0);
    // three frets above B3 is D4; A raises it by a whole tone
    await button(/^Engage A: E 4, degree 6/)
      .first()
      .click();
    await expect(gripwright.control('A')).toHaveAttribute('aria-pressed', 'true');
    await gripwright.control('A').click();
    await expectNoObjection(page, 'the scale under the bar');
  });

  await test.step('another scale is named', async () => {
    await page.getByRole('combobox', { name: 'Scale' }).selectOption('another scale');
    const other = page.getByRole('textbox', { name: 'Another scale' });
    await other.fill('A dorain');
    await other.press('Enter');
    await expect(page.getByText(/Found “dorain”/)).toBeVisible();
    await other.fill('G mixolydian');
    await other.press('Enter');
    await expect(page.getByText(/Found “/)).toHaveCount(0);
    await expect(page).toHaveURL(/scale=G[+ %20]*mixolydian/);
  });

  await test.step('its pockets, all of them by keyboard, each with its best run', async () => {
    await shown.getByRole('button', { name: 'Pockets' }).press('Enter');
    const best = page.getByRole('heading', { name: /^frets \d+–\d+: the best run/i });
    await expect(best).toBeVisible();
    await expect(page.getByRole('group', { name: 'Tablature as text' })).toContainText('G♯');
    const first = await best.textContent();
    await button(/^All \d+ pockets$/).press('Enter');
    const list = page.getByRole('list').filter({ has: button(/a note$/) });
    // 23 stretches of two frets on 24, from the nut up
    await expect(list.getByRole('button')).toHaveCount(23);
    await list.getByRole('button').nth(10).press('Enter');
    await expect(best).not.toHaveText(first ?? '');
    await button('Play the run').click();
    await expect(button('Stop').last()).toBeVisible();
    await button('Stop').last().click();
    await expectNoObjection(page, 'the pockets');
  });

  await test.step('a ladder, looped, walked with the arrow keys, its rungs laid on the neck', async () => {
    await shown.getByRole('button', { name: 'Ladder' }).press('Enter');
    await page.getByRole('combobox', { name: 'Interval' }).selectOption('in thirds');
    await page.getByRole('textbox', { name: 'Strings' }).fill('3,4');
    await page.getByRole('textbox', { name: 'Strings' }).press('Enter');
    await expect(page.getByRole('status').filter({ hasText: /rungs, effort/ })).toBeVisible();
    const rungs = button(/^Lay on the neck: degree/);
    await rungs.first().focus();
    await page.keyboard.press('ArrowRight');
    await page.keyboard.press('ArrowRight');
    const name = (await rungs.nth(2).getAttribute('aria-label')) ?? '';
    await expect(page.locator(':focus')).toHaveAccessibleName(name);
    await page.keyboard.press('Enter');
    const fret = /fret (\d+)/.exec(name)?.[1];
    if (fret !== undefined) await gripwright.expectFret(Number(fret));
    await page.getByRole('checkbox', { name: 'Loop' }).check();
    await button('Play the ladder').click();
    await expect(page.locator('li.heard')).toHaveCount(1);
    await button('Stop').last().click();
    await expect(page.locator('li.heard')).toHaveCount(0);
    await expectNoObjection(page, 'the ladder');
  });

  await test.step('a passage from one row to another', async () => {
    await gripwright.open('?chord=G');
    await page.getByText('From here').first().click();
    await page.getByText('Passages', { exact: true }).click();
    await button('Start from this position').click();
    await gripwright.rows.nth(1).click();
    await expect(button(/^Play: .*(up|down|back|leap)/).first()).toBeVisible({ timeout: 30_000 });
    await button(/^Lay step 2 on the neck:/)
      .first()
      .click();
    await expectNoObjection(page, 'the passages');
  });

  await test.step('a phrase into a piece, in thirds there', async () => {
    await page.goto('arrange?chords=G%20%7C%20C');
    await page.getByText('Phrases', { exact: true }).click();
    await button('Add to the piece: Rise in thirds').click();
    await expect(page.getByText('“Rise in thirds” stands at the end of the piece.')).toBeVisible();
    await expect(page).toHaveURL(/measures=3-4/);
    await expect(page).toHaveURL(/thirds/);
  });
});
