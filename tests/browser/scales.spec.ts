/**
 * A player goes on from a chord, by keyboard where that is another way: its scale under the bar, pockets on one picture,
 * a ladder up and down, looped, printed, and what has more of it; passages, what leads on, and a phrase into a piece.
 * Where E9 has its notes is worked out by hand.
 */
import { expectNoObjection } from './axe';
import { expect, keptPageTest as test } from './page';

// a walk of many steps in one page
test.describe.configure({ timeout: 60_000 });

test('from the scale of a chord to a pocket, a ladder, a passage and a phrase', async ({
  page,
  gripwright,
}) => {
  const button = (name: string | RegExp) => page.getByRole('button', { name });
  const folded = (title: string) => page.locator('summary', { hasText: title });
  const shown = page.getByRole('group', { name: 'Shown of the scale' });

  await test.step('the scale under the bar on the neck, and a note that one control adds', async () => {
    await gripwright.open('?chord=G&at=3&strings=4,5,6');
    await button('Scale').press('Enter');
    // three frets above the open strings: A4 and G4, the second and the root of G major; F4 on string 9 is none of it
    await expect(gripwright.string(1)).toHaveAccessibleName(/degree 2, A 4$/);
    await expect(gripwright.string(8)).toHaveAccessibleName(/root, G 3$/);
    await expect(gripwright.string(9)).toHaveAccessibleName('String 9, D 3');
    // D4 on string 5, which A raises by a whole tone
    await button(/^Engage A: E 4, degree 6/)
      .first()
      .press('Enter');
    await expect(gripwright.control('A')).toHaveAttribute('aria-pressed', 'true');
    await expect(gripwright.string(5)).toHaveAccessibleName(/E 4$/);
    await gripwright.control('A').press('Enter');
  });

  await test.step('another scale is named', async () => {
    await page.getByRole('combobox', { name: 'Scale' }).selectOption('another scale');
    const other = page.getByRole('textbox', { name: 'Another scale' });
    await other.fill('A dorain');
    await other.press('Enter');
    await expect(page.getByText(/Found “dorain”/)).toBeVisible();
    await other.fill('G mixolydian');
    await other.press('Enter');
    await expect(page).toHaveURL(/scale=G[+ %20]*mixolydian/);
  });

  await test.step('its pockets on one picture and in a list, each with its best run', async () => {
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
  });

  await test.step('a ladder that breaks off says what has more, one press away', async () => {
    await shown.getByRole('button', { name: 'Ladder' }).press('Enter');
    await page.getByRole('combobox', { name: 'Interval' }).selectOption('in thirds');
    const strings = page.getByRole('textbox', { name: 'Strings' });
    await strings.fill('1,9');
    await strings.press('Enter');
    const more = page.getByRole('group', { name: 'What has more rungs' });
    await expect(page.getByText(/There is no such ladder: strings 1 and 9/)).toBeVisible();
    await more.getByRole('button', { name: /^Any strings: \d+ rungs/ }).press('Enter');
    await expect(more).toHaveCount(0);
    await expect(strings).toHaveValue('');
  });

  await test.step('a ladder up and down, walked with the arrow keys, looped, on paper', async () => {
    const told = page.getByRole('status').filter({ hasText: /rungs, effort/ });
    await page.getByRole('textbox', { name: 'Strings' }).fill('3,4');
    await page.getByRole('textbox', { name: 'Strings' }).press('Enter');
    const rungs = button(/^Lay on the neck: degree/);
    await expect(rungs.first()).toHaveAccessibleName(/strings 3 4$/);
    // up and down again with the highest once
    expect((await rungs.count()) % 2).toBe(1);
    await expect(told).toContainText('G mixolydian in thirds');
    await rungs.first().focus();
    await page.keyboard.press('ArrowRight');
    await page.keyboard.press('ArrowRight');
    const name = (await rungs.nth(2).getAttribute('aria-label')) ?? '';
    await expect(page.locator(':focus')).toHaveAccessibleName(name);
    await page.keyboard.press('Enter');
    await gripwright.expectFret(Number(/fret (\d+)/.exec(name)?.[1]));
    await page.getByRole('checkbox', { name: 'Loop' }).press('Space');
    await button('Play the ladder').press('Enter');
    await expect(page.locator('li.heard')).toHaveCount(1);
    await button('Stop').last().press('Enter');
    await expect(page.locator('li.heard')).toHaveCount(0);
    await page.emulateMedia({ media: 'print' });
    await expect(told).toBeVisible();
    await expect(rungs.last()).toBeVisible();
    await expect(shown).toBeHidden();
    await page.emulateMedia({ media: null });
    await expectNoObjection(page, 'the ladder');
  });

  await test.step('what leads on, each to be heard, and a passage from one row to another', async () => {
    await button('Rows').press('Enter');
    await gripwright.rows.first().press('Enter');
    await folded('From here').first().press('Enter');
    await folded('What leads on').press('Enter');
    // common practice: A and B make the fourth of the open position
    await button(/^Play: this chord, then C$/).press('Enter');
    await folded('Passages').press('Enter');
    await button('Start from this position').press('Enter');
    await gripwright.rows.nth(1).press('Enter');
    await expect(button(/^Play: .*(up|down|back|leap)/).first()).toBeVisible({ timeout: 30_000 });
    await button(/^Lay step 2 on the neck:/)
      .first()
      .press('Enter');
    await expectNoObjection(page, 'what leads on, and passages');
  });

  await test.step('a phrase into a piece, in thirds there', async () => {
    await page.goto('arrange?chords=G%20%7C%20C');
    await folded('Phrases').press('Enter');
    await button('Add to the piece: Rise in thirds').press('Enter');
    await expect(page.getByText('“Rise in thirds” stands at the end of the piece.')).toBeVisible();
    await expect(page).toHaveURL(/measures=3-4/);
    await expect(page).toHaveURL(/thirds/);
  });
});
