/** A chord that is held on a MIDI keyboard, what leads on from it, and a ladder of its scale in a loop with the band. */
import { plugIn, press } from './keyboards';
import { heard, listen } from './outlet';
import { expect, keptPageTest as test } from './page';

test.use({ viewport: { width: 390, height: 844 } });

test('a chord on a keyboard, with the sheet of tools shut: ways on, a ladder, looped with the band', async ({
  page,
  gripwright,
}) => {
  await plugIn(page);
  await listen(page);
  await gripwright.open();
  await gripwright.unfold('MIDI keyboard');
  await page.getByRole('button', { name: 'Use a MIDI keyboard' }).click();
  await page.getByLabel('What to do with a chord').selectOption({ label: 'find it by its name' });
  await page.keyboard.press('Escape');
  // C4 E4 G4, and then F4 A4 C5: asked while only the neck and the rows are in view
  await press(page, [60, 64, 67]);
  await expect(gripwright.heading).toContainText(/^C /);
  await press(page, [65, 69, 72]);
  await expect(gripwright.heading).toContainText(/^F /);

  await gripwright.unfold('From here');
  await page.locator('summary', { hasText: 'What leads on' }).click();
  await page
    .getByRole('button', { name: /^Play: this chord, then/ })
    .first()
    .click();
  await expect.poll(async () => (await heard(page)).loudness).toBeGreaterThan(0.005);
  await page.keyboard.press('Escape');
  if (await gripwright.more.isVisible()) await page.keyboard.press('Escape');

  await page.getByRole('button', { name: 'Scale', exact: true }).click();
  await page.getByRole('button', { name: 'Ladder' }).click();
  await expect(page.getByRole('status').filter({ hasText: /rungs, effort/ })).toContainText(
    'F major',
  );
  await page.getByRole('checkbox', { name: 'Loop' }).check();
  await page.locator('summary', { hasText: 'Band' }).click();
  await page.getByRole('combobox', { name: 'Feel' }).selectOption('Shuffle');
  await page.getByRole('button', { name: 'Play the ladder' }).click();
  await expect(page.locator('li.heard')).toHaveCount(1);
  await expect.poll(async () => (await heard(page)).loudness).toBeGreaterThan(0.005);
  // the keyboard asks on, and what is asked then is another ladder
  await page.getByRole('button', { name: 'Stop' }).last().click();
  await press(page, [67, 71, 74]);
  await expect(page.getByRole('status').filter({ hasText: /rungs, effort/ })).toContainText(
    'G major',
  );
});
