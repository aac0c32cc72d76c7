/**
 * Limits to where and how a chord may be played, as they are typed, ticked, chosen and drawn. What
 * each of them does to the rows is `tests/unit/ui/limits.test.ts`.
 */
import { expect, keptPageTest as test } from './page';

// each is a walk of many steps in one page
test.describe.configure({ timeout: 120_000 });

test('limits are set, counted, kept in the address, told where they cannot be read, and dropped', async ({
  page,
  gripwright,
}) => {
  await gripwright.open();
  await gripwright.limits.click();
  const drop = page.getByRole('button', { name: 'Clear all limits' });
  await expect(drop).toBeDisabled();
  const everything = await gripwright.heading.innerText();

  await test.step('typed', async () => {
    await gripwright.setLimit('Frets', '1-5');
    await expect(page).toHaveURL(/\?frets=1-5$/);
    await expect(gripwright.limits).toHaveText(/\(1 set\)/);
    // of the three everyday positions of C (3, 8, 11) only A+B at 3 is left
    await expect(gripwright.rows.first()).toHaveAccessibleName(/^Fret 3, A and B, /);
    for (const name of await gripwright.rowNames()) expect(name).toMatch(/^Fret [1-5],/);
    await gripwright.setLimit('Strings at once', '4');
    await expect(gripwright.rows.first()).toHaveAccessibleName(/strings \d+ \d+ \d+ \d+,/);
    await gripwright.setLimit('Note on top', 'G');
    await gripwright.setLimit('Note in the bass', 'E');
    await gripwright.setLimit('Start from fret', '3');
    await expect(page).toHaveURL(/frets=1-5&sizes=4&top=G&bass=E&home=3$/);
    const notes = (await gripwright.rowNotes())[0] ?? [];
    expect(notes.map((note) => note.slice(0, -1))).toEqual(expect.arrayContaining(['G', 'E']));
    await expect(gripwright.limits).toHaveText(/\(5 set\)/);
  });

  await test.step('what cannot be read says what would be right, and the rows stay', async () => {
    const before = await gripwright.rowNames();
    await gripwright.setLimit('Frets', '30-40');
    await expect(gripwright.limit('Frets')).toHaveAttribute('aria-invalid', 'true');
    await expect(gripwright.limit('Frets')).toHaveAccessibleDescription(/“30-40”.*0-24/);
    await expect(gripwright.limits).toContainText('cannot be read');
    expect(await gripwright.rowNames()).toEqual(before);
  });

  await test.step('dropped together', async () => {
    await drop.click();
    await expect(gripwright.heading).toHaveText(everything, { useInnerText: true });
    await expect(gripwright.limit('Frets')).toHaveAttribute('aria-invalid', 'false');
    await expect(gripwright.limit('Frets')).toHaveValue('');
    await expect(page).toHaveURL(/\/$/);
    await expect(drop).toBeDisabled();
  });

  await test.step('ticked, and ticked away', async () => {
    const pedals = gripwright.rows.filter({ hasText: 'A+B' });
    await expect(pedals.first()).toBeVisible();
    const without = page.getByRole('group', { name: 'Without these controls' });
    const only = page.getByRole('group', { name: 'Only these strings' });
    await without.getByRole('checkbox', { name: 'B', exact: true }).check();
    await expect(pedals).toHaveCount(0);
    await without.getByRole('checkbox', { name: 'A', exact: true }).check();
    await expect(page).toHaveURL(/without=B,A$/);
    for (const string of ['3', '4', '5'])
      await only.getByRole('checkbox', { name: string, exact: true }).check();
    await expect(page).toHaveURL(/grip=3,4,5&without=B,A$/);
    await expect(gripwright.limits).toHaveText(/\(2 set\)/);
    await expect(gripwright.rows.first()).toHaveAccessibleName(/strings 3 4 5,/);
    for (const control of ['B', 'A'])
      await without.getByRole('checkbox', { name: control, exact: true }).uncheck();
    for (const string of ['3', '4', '5'])
      await only.getByRole('checkbox', { name: string, exact: true }).uncheck();
    await expect(pedals.first()).toBeVisible();
    await expect(page).toHaveURL(/\/$/);
  });

  await test.step('chosen, and drawn with a slider', async () => {
    const lean = gripwright.rows.filter({ hasText: 'no 5' });
    await expect(lean.first()).toBeVisible();
    await gripwright.limit('Tones').selectOption({ label: 'complete only' });
    await expect(lean).toHaveCount(0);
    const feet = page.getByRole('slider', { name: /^Feet and knees/ });
    await feet.press('Home');
    await expect(feet).toHaveValue('0');
    // levers cost nothing now: two of them come before the unusual grip 1-2-5 that needs none
    await expect(page).toHaveURL(/match=complete&balance=feet%3D0$/);
    await expect
      .poll(async () =>
        (await gripwright.rowNames())
          .map((name) => /^Fret (1, LKR and RKL|1, nothing engaged),/.exec(name)?.[1])
          .filter((found) => found !== undefined),
      )
      .toEqual(['1, LKR and RKL', '1, nothing engaged']);
  });
});
