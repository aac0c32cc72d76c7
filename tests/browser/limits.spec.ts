/** Limits to where and how a chord may be played: each changes the rows as it says. */
import { expect, test } from './page';

const fretsOf = (names: string[]): number[] =>
  names.map((name) => Number(/ret (\d+)/.exec(name)?.[1]));
const stringsOf = (names: string[]): number[][] =>
  names.map((name) => (/strings ([\d ]+)/.exec(name)?.[1] ?? '').split(' ').map(Number));

test.describe('a limit', () => {
  test.beforeEach(async ({ gripwright }) => {
    await gripwright.open();
    await gripwright.limits.click();
  });

  test('to the frets keeps the bar there, and is counted', async ({ page, gripwright }) => {
    await gripwright.setLimit('Frets', '1-5');
    await expect(page).toHaveURL(/frets=1-5/);
    await expect(gripwright.limits).toHaveText(/\(1 set\)/);
    // of the three everyday positions of C (3, 8, 11) only A+B at 3 is left
    await expect(gripwright.rows.first()).toHaveAccessibleName(/^Fret [1-5],/);
    const names = await gripwright.rowNames();
    for (const fret of fretsOf(names)) expect([1, 2, 3, 4, 5]).toContain(fret);
    expect(names[0]).toMatch(/^Fret 3, A and B, /);
  });

  test('to the strings at once gives grips of that size', async ({ gripwright }) => {
    await gripwright.setLimit('Strings at once', '4');
    await expect(gripwright.rows.first()).toHaveAccessibleName(/strings \d+ \d+ \d+ \d+,/);
    for (const strings of stringsOf(await gripwright.rowNames())) expect(strings).toHaveLength(4);
  });

  test('to the note on top and in the bass is kept by every row', async ({ page, gripwright }) => {
    await gripwright.setLimit('Note on top', 'G');
    await expect(page).toHaveURL(/top=G/);
    await gripwright.setLimit('Note in the bass', 'E');
    await expect(page).toHaveURL(/bass=E/);
    await expect(gripwright.limits).toHaveText(/\(2 set\)/);
    await expect(gripwright.rows.first()).toContainText(/E\d.*G\d/);
    for (const notes of await gripwright.rowNotes()) {
      expect(notes.at(0)).toMatch(/^E\d$/);
      expect(notes.at(-1)).toMatch(/^G\d$/);
    }
    // an octave can be asked for as well
    await gripwright.setLimit('Note on top', 'G4');
    await expect(gripwright.rows.first()).toContainText('G4');
    for (const notes of await gripwright.rowNotes()) expect(notes.at(-1)).toBe('G4');
  });

  test('to go without a control takes it out of every row', async ({ page, gripwright }) => {
    await expect(gripwright.rows.filter({ hasText: 'A+B' }).first()).toBeVisible();
    const without = page.getByRole('group', { name: 'Without these controls' });
    await without.getByRole('checkbox', { name: 'B', exact: true }).check();
    await expect(gripwright.rows.filter({ hasText: 'A+B' })).toHaveCount(0);
    for (const name of await gripwright.rowNames()) expect(name).not.toMatch(/\bB\b/);
    await without.getByRole('checkbox', { name: 'B', exact: true }).uncheck();
    await expect(gripwright.rows.filter({ hasText: 'A+B' }).first()).toBeVisible();
  });

  test('to complete chords leaves none with a tone missing', async ({ gripwright }) => {
    const lean = gripwright.rows.filter({ hasText: 'no 5' });
    await expect(lean.first()).toBeVisible();
    await gripwright.limit('Tones').selectOption({ label: 'Complete only' });
    await expect(lean).toHaveCount(0);
    // C major is C, E and G, all of them
    for (const notes of await gripwright.rowNotes())
      expect([...new Set(notes.map((note) => note.replace(/\d/, '')))].sort()).toEqual([
        'C',
        'E',
        'G',
      ]);
  });

  test('to some strings uses no others', async ({ page, gripwright }) => {
    const only = page.getByRole('group', { name: 'Only these strings' });
    for (const string of ['3', '4', '5'])
      await only.getByRole('checkbox', { name: string, exact: true }).check();
    await expect(page).toHaveURL(/grip=3,4,5/);
    await expect(gripwright.limits).toHaveText(/\(1 set\)/);
    await expect
      .poll(
        async () => new Set((await gripwright.rowNames()).map((name) => stringsOf([name]).join())),
      )
      .toEqual(new Set(['3,4,5']));
  });

  test('to where the bar is brings what lies near it to the top', async ({ gripwright }) => {
    // the same hands, nothing pressed, at 8 and an octave up: the nearer one comes first
    const order = async (): Promise<number[]> =>
      fretsOf((await gripwright.rowNames()).filter((name) => /ret (8|20), nothing/.test(name)));
    expect(await order()).toEqual([8, 20]);
    await gripwright.setLimit('Bar is at fret', '20');
    await expect.poll(order).toEqual([20, 8]);
  });

  test('of the balance makes pedals cheap or dear', async ({ gripwright }) => {
    // Nothing pressed at fret 20 costs only the reach up the neck, A+B at 3 only the feet: whose feet
    // count for nothing has A+B first.
    const order = async (): Promise<number[]> =>
      fretsOf(
        (await gripwright.rowNames()).filter((name) =>
          /^Fret (3, A and B|20, nothing engaged),/.test(name),
        ),
      );
    expect(await order()).toEqual([20, 3]);
    const feet = gripwright.page.getByRole('slider', { name: /^Feet and knees/ });
    await feet.press('Home');
    await expect(feet).toHaveValue('0');
    await expect.poll(order).toEqual([3, 20]);
  });

  test('that cannot be read says what would be right and keeps the rows', async ({
    page,
    gripwright,
  }) => {
    const before = await gripwright.rowNames();
    await gripwright.setLimit('Frets', '30-40');
    await expect(gripwright.limit('Frets')).toHaveAttribute('aria-invalid', 'true');
    await expect(gripwright.limit('Frets')).toHaveAccessibleDescription(/“30-40”.*0-24/);
    await expect(gripwright.limits).toContainText('cannot be read');
    expect(await gripwright.rowNames()).toEqual(before);

    await page.getByRole('button', { name: 'Drop all limits' }).click();
    await expect(gripwright.limit('Frets')).toHaveAttribute('aria-invalid', 'false');
    await expect(gripwright.limit('Frets')).toHaveValue('');
  });

  test('is dropped together with all the others', async ({ page, gripwright }) => {
    const drop = page.getByRole('button', { name: 'Drop all limits' });
    await expect(drop).toBeDisabled();
    const everything = await gripwright.heading.innerText();
    await gripwright.setLimit('Frets', '1-5');
    await gripwright.setLimit('Strings at once', '4');
    await expect(gripwright.limits).toHaveText(/\(2 set\)/);
    await drop.click();
    await expect(gripwright.heading).toHaveText(everything, { useInnerText: true });
    await expect(page).toHaveURL(/\/$/);
    await expect(drop).toBeDisabled();
  });
});
