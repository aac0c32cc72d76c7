/** A tune in Arrange: every note in its texture, asked for otherwise, drawn in staves, heard. */
import { expect, keptPageTest as test } from './page';

test.describe.configure({ timeout: 120_000 });

const TUNE = `X:1
T:A walk in the meadow
M:4/4
L:1/4
K:G
"G"G B d B | "C"c e c2 | "D7"A2 F2 | "G"G4 |]`;

test('a tune from a file is arranged note by note, asked for otherwise, drawn and heard', async ({
  page,
}) => {
  await page.goto('arrange/');
  await page
    .locator('input[type=file]')
    .first()
    .setInputFiles({
      name: 'walk.abc',
      mimeType: 'text/plain',
      buffer: Buffer.from(TUNE),
    });
  const notes = page.locator('[data-note]');

  await test.step('a texture is chosen, for all and for one measure', async () => {
    await page.getByRole('combobox', { name: 'Texture of all measures' }).selectOption('line');
    await expect(notes).toHaveCount(10);
    await page.getByRole('button', { name: 'Choose measure 2' }).click();
    await page.getByRole('combobox', { name: 'Texture of measure 2' }).selectOption('sixths');
    await expect(page).toHaveURL(/measures=2%3Dsixths/);
    await expect(notes.nth(3).locator('.strings')).toHaveText(/^\d+\D*$/);
    await expect(notes.nth(4).locator('.strings')).toHaveText(/^\d+\D* \d+/);
  });

  await test.step('a note is moved to another string, and freed', async () => {
    await notes.nth(2).click();
    await page.getByRole('combobox', { name: 'Move the tune to another string' }).selectOption('5');
    await expect(notes.nth(2).locator('.strings')).toHaveText(/^5/);
    await expect(page).toHaveURL(/notes=1%3A3%3Dtune%3A5/);
    await page.getByRole('button', { name: 'Free it' }).click();
    await expect(page).not.toHaveURL(/notes=/);
  });

  await test.step('staves stand above the tablature, with numbers for chords where wanted', async () => {
    const staff = page.getByRole('region', { name: 'Staff' });
    await expect(staff.getByRole('img', { name: /measures 1 to/ })).toBeVisible();
    await page.getByRole('combobox', { name: 'Chord signs' }).selectOption('numbers');
    await expect(staff.locator('text', { hasText: '5⁷' }).first()).toBeVisible();
  });

  await test.step('what is heard is marked in strip and staff', async () => {
    await page.getByRole('button', { name: 'Play', exact: true }).click();
    await expect(page.locator('[data-note].heard')).toHaveCount(1, { timeout: 10_000 });
    await expect(page.locator('.cursor')).toHaveCount(1);
    await page.getByRole('button', { name: 'Stop' }).click();
    await expect(page.locator('.cursor')).toHaveCount(0);
  });
});
