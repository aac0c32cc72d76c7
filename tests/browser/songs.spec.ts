/** Songs as the measure, on Change and on Compare: opened, measured, seen and heard. Songs are made up. */
import { expectNoObjection } from './axe';
import { expect, keptPageTest as test } from './page';

const file = (name: string, text: string) => ({
  name,
  mimeType: 'text/plain',
  buffer: Buffer.from(text),
});

test('a lever by the songs of a player, and two setups by the same songs', async ({ page }) => {
  await page.goto('change/?setup=lap6-c6&with=LKL:3-1&station=LKL');
  const songs = page.getByRole('region', { name: 'By my songs' });
  await songs.getByText('By my songs').click();
  await songs
    .getByLabel('Open song files…')
    .setInputFiles([
      file('plain.txt', 'C | F | G | C'),
      file('lifted.txt', 'C | Caug | Am | C'),
      file('empty.txt', ''),
    ]);
  await expect(songs.getByRole('alert').last()).toContainText('empty.txt');
  await songs.getByRole('combobox', { name: 'Weight of plain' }).selectOption('twice');
  await songs.getByRole('button', { name: 'Measure by these songs' }).click();
  const rows = songs.getByRole('list', { name: 'Song by song' }).locator('> li');
  // six strings in C6 have no C, E and G sharp under a bar, straight or slanted; with A lowered they have
  await expect(rows.first()).toContainText('lifted');
  await expect(rows.first()).toContainText('can be played now');
  await expect(rows.first()).toContainText('in measure 2');
  await expect(songs.getByRole('status')).toContainText('1 song can be played now.');
  await songs.getByRole('button', { name: 'Arrangements of lifted' }).click();
  const steps = songs.getByRole('region', { name: 'Arrangements of lifted' });
  await expect(steps.getByRole('row')).toHaveCount(5);
  await expect(steps.getByRole('row').nth(2)).toContainText('cannot be played');
  await songs.getByRole('button', { name: 'Play lifted, after' }).click();
  await songs.getByRole('button', { name: 'Stop lifted, after' }).click();
  await expectNoObjection(page, 'songs on Change');

  await page.getByRole('link', { name: 'Compare', exact: true }).first().click();
  await songs.getByText('By my songs').click();
  // the files of the visit are still there
  await songs.getByRole('button', { name: 'Measure by these songs' }).click();
  await expect(rows).toHaveCount(2);
  await expect(songs.getByRole('status')).toContainText(/Effort of|can be played on/);
});
