/**
 * The address holds the state: what is asked, the limits, the setup, and what the table shows. What
 * is read from an address and written into it is `tests/unit/ui/exploreAddress.test.ts`, what is made
 * of hostile ones `tests/unit/ui/addresses.test.ts`.
 */
import { expect, keptPageTest as test } from './page';

// each is a walk of many steps in one page
test.describe.configure({ timeout: 120_000 });

test('a reload keeps what is asked and what is held, a row or not', async ({
  page,
  gripwright,
}) => {
  await gripwright.open();

  await test.step('chord, key, limits and a row', async () => {
    await gripwright.ask('Am7');
    await gripwright.key.fill('F');
    await gripwright.key.press('Enter');
    await gripwright.limits.click();
    await gripwright.setLimit('Frets', '0-9');
    await expect(page).toHaveURL(/chord=Am7&key=F&frets=0-9$/);
    await gripwright.rows.nth(2).click();
    await expect(page).toHaveURL(/at=\d+.*strings=/);
    const held = await gripwright.rows.nth(2).getAttribute('aria-label');
    const fret = Number(await gripwright.bar.getAttribute('aria-valuenow'));

    await page.reload();
    await expect(gripwright.current).toHaveAccessibleName(held ?? '');
    await expect(gripwright.chord).toHaveValue('Am7');
    await expect(gripwright.key).toHaveValue('F');
    await gripwright.limits.click();
    await expect(gripwright.limit('Frets')).toHaveValue('0-9');
    await gripwright.expectFret(fret);
  });

  await test.step('a hold that is no row', async () => {
    await page.getByRole('button', { name: 'Clear all limits' }).click();
    await gripwright.key.fill('');
    await gripwright.ask('C');
    await expect(gripwright.rows.first()).toHaveAttribute('aria-current', 'true');
    await gripwright.control('RKR').click();
    await gripwright.control('RKR').click();
    await gripwright.bar.press('ArrowRight');
    await expect(page).toHaveURL(/\?at=9&engaged=RKR:half&strings=3,4,5$/);
    await page.reload();
    await expect(gripwright.rows.first()).toBeVisible();
    await gripwright.expectFret(9);
    await expect(gripwright.control('RKR')).toHaveAttribute('aria-pressed', 'mixed');
    await gripwright.expectPicked(3, 4, 5);
  });
});

test('Back and Forward walk through the questions, and letters on the way are no steps', async ({
  page,
  gripwright,
}) => {
  await gripwright.open();
  for (const symbol of ['Am7', 'F', 'G7']) {
    await gripwright.ask(symbol);
    await expect(gripwright.heading).toContainText(new RegExp(`^${symbol} `));
    await expect(page).toHaveURL(new RegExp(`chord=${symbol}$`));
  }
  for (const symbol of ['F', 'Am7', 'C']) {
    await page.goBack();
    await expect(gripwright.chord).toHaveValue(symbol);
    await expect(gripwright.heading).toContainText(new RegExp(`^${symbol} `));
  }
  await page.goForward();
  await expect(gripwright.chord).toHaveValue('Am7');
  await expect(gripwright.heading).toContainText(/^Am7 /);
  await expect(page).toHaveTitle('Am7 · Gripwright');

  await test.step('letters on the way to a chord are no steps of their own', async () => {
    await gripwright.chord.blur();
    await gripwright.chord.click();
    await page.keyboard.type('Dmaj9');
    await page.keyboard.press('Enter');
    await expect(gripwright.heading).toContainText(/^Dmaj9 /);
    await expect(page).toHaveURL(/chord=Dmaj9$/);
    await page.goBack();
    await expect(gripwright.chord).toHaveValue('Am7');
    await expect(page).toHaveURL(/chord=Am7$/);
  });

  await test.step('Back right after a touch leaves the entry that it reaches as it was', async () => {
    await gripwright.ask('G7');
    await expect(page).toHaveURL(/chord=G7$/);
    await page.getByRole('button', { name: /^Lever RKL/ }).click();
    await page.goBack();
    await expect(gripwright.chord).toHaveValue('Am7');
    // that nothing is written any more shows only after the time in which it would have been
    await page.waitForTimeout(600);
    expect(new URL(page.url()).search).toBe('?chord=Am7');
    await expect(gripwright.chord).toHaveValue('Am7');
  });
});

test('a bookmark opens as it was kept, and one that nobody has kept opens all the same', async ({
  page,
  gripwright,
}) => {
  await test.step('a bookmark', async () => {
    // A+LKL at fret 3 is C♯ + 3 (common practice): E major
    await gripwright.open('?chord=E&frets=0-11&at=3&engaged=A,LKL&strings=4,5,6');
    await gripwright.expectFret(3);
    await gripwright.expectPicked(4, 5, 6);
    await expect(gripwright.control('A')).toHaveAttribute('aria-pressed', 'true');
    await expect(gripwright.control('LKL')).toHaveAttribute('aria-pressed', 'true');
    await gripwright.expectName('E major');
    await expect(gripwright.current).toHaveAccessibleName(/^Fret 3, A and LKL, strings 4 5 6/);
  });

  await test.step('an unknown setup', async () => {
    await gripwright.open('?setup=nothing&colour=green');
    await expect(page.getByRole('heading', { level: 1 })).toHaveText('Explore');
    await expect(page.getByRole('alert')).toHaveText(
      /There is no setup “nothing” on this device.*E9 is shown instead\./,
    );
    await expect(gripwright.setup.locator('option:checked')).toHaveText(/^E9, /);
    await gripwright.ask('G');
    await expect(gripwright.heading).toContainText(/^G /);
  });

  await test.step('a hold that nobody can hold, beyond the neck', async () => {
    await gripwright.open('?at=999&engaged=LKL,LKR&strings=3,4,5,77');
    await gripwright.expectFret(24);
    await gripwright.expectPicked();
    await expect(page.getByRole('button', { name: /^(Pedal|Lever)/, pressed: true })).toHaveCount(
      0,
    );
    await gripwright.ask('G');
    await expect(gripwright.heading).toContainText(/^G /);
  });

  await test.step('signs and limits that are none', async () => {
    await gripwright.open('?frets=abc&chord=%25%3C%3E');
    await expect(gripwright.chord).toHaveAccessibleDescription(
      '⚠ “%<>” at place 1 is not understood; a chord begins with a letter from A to G.',
    );
    await expect(gripwright.rows).toHaveCount(0);
    await gripwright.ask('G');
    await gripwright.limits.click();
    await page.getByRole('button', { name: 'Clear all limits' }).click();
    await expect(gripwright.heading).toContainText(/^G /);
  });
});

test('a double neck shows the rows of both necks, and a setup without pedals none', async ({
  page,
  gripwright,
}) => {
  await test.step('a double neck', async () => {
    await gripwright.open();
    await gripwright.setup.selectOption({ label: 'Double neck, E9 and C6' });
    await expect(page).toHaveURL(/setup=double/);
    await expect(gripwright.rows.first()).toHaveAccessibleName(/^(E9|C6) neck, /);
    await gripwright.ask('C6');
    // Common practice: C6 with nothing pressed is C6, so on open strings and at fret 12.
    await gripwright.limits.click();
    await gripwright.limit('Neck').selectOption('C6');
    await expect(page).toHaveURL(/neck=2/);
    await expect(gripwright.rows.first()).toHaveAccessibleName(/^C6 neck, fret 0, nothing engaged/);
    for (const name of await gripwright.rowNames()) expect(name).toMatch(/^C6 neck, /);
    await expect(page.getByRole('group', { name: 'Neck: C6' })).toBeVisible();
    await expect(gripwright.string(1)).toHaveAccessibleName(/^String 1, G 4/);

    // P5 makes D9 (common practice)
    await gripwright.control('P5').click();
    for (const string of [1, 2, 3, 4, 5, 6, 7, 8, 9, 10]) {
      const button = gripwright.string(string);
      const wanted = String([6, 7, 8, 9, 10].includes(string));
      if ((await button.getAttribute('aria-pressed')) !== wanted) await button.click();
    }
    await gripwright.expectName('D dominant ninth');
  });

  await test.step('a setup without pedals', async () => {
    await gripwright.open('?setup=lap6-c6&chord=C6');
    await expect(gripwright.string(6)).toHaveAccessibleName(/^String 6, C 3/);
    await expect(gripwright.string(7)).toHaveCount(0);
    await expect(page.getByRole('group', { name: 'Pedals and levers' })).toHaveCount(0);
    await gripwright.limits.click();
    await expect(page.getByRole('group', { name: 'Without these controls' })).toHaveCount(0);
    await expect(gripwright.limit('Slanted bar').locator('option:checked')).toHaveText(
      'slants too',
    );
    // open strings are C6
    await expect(gripwright.rows.first()).toHaveAccessibleName(/^Fret 0, nothing engaged/);
  });
});
