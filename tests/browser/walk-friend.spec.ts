/**
 * A friend's link: beside my own setup, by my songs, and the one pull that I have not is tried on mine. The song is
 * made up; a lever that lowers the third of a major triad makes it minor.
 */
import { expect, keptPageTest as test } from './page';
import { ShelfPage, fileOf } from './shelfPage';

test('a friend’s link, compared by my songs, and one pull of it taken over', async ({
  page,
  browser,
}) => {
  const pedal = { id: 'A', station: 'P1', pulls: [{ string: 2, semitones: 1 }] };
  const lever = { id: 'X', station: 'RKV', pulls: [{ string: 2, semitones: -1 }] };
  const theirs = await browser.newPage();
  const there = new ShelfPage(theirs);
  await there.open();
  const friend = fileOf('A friend’s board', { controls: [pedal, lever] });
  await there.drop([{ name: 'friend.json', content: friend }]);
  await there.button('A friend’s board', 'Share').click();
  const link = await there.dialog.getByRole('textbox', { name: /^Link/ }).inputValue();
  await theirs.close();

  const shelf = new ShelfPage(page);
  await shelf.open();
  await shelf.drop([{ name: 'mine.json', content: fileOf('My board') }]);
  await expect(shelf.names).toHaveText(['My board']);
  await page.goto(link);
  // mine is chosen already
  await page.getByRole('button', { name: 'Compare the two' }).click();
  const songs = page.getByRole('region', { name: 'By my songs' });
  await songs.getByText('By my songs').click();
  await songs.getByLabel('Open song files…').setInputFiles([
    {
      name: 'Dark well.txt',
      mimeType: 'text/plain',
      buffer: Buffer.from('G | Gm | G | C'),
    },
  ]);
  await songs.getByRole('button', { name: 'Measure by these songs' }).click();
  await expect(songs.getByRole('status')).toContainText(
    '1 song can be played on A friend’s board alone',
  );

  const pulls = page.getByRole('region', { name: 'Pulls that A friend’s board has' });
  // the pedal is on both, so the lever alone tells them apart
  await expect(pulls.getByRole('listitem')).toHaveCount(1);
  await expect(pulls).toContainText('RKV: 2 B3 → B♭3');
  await pulls.getByRole('link', { name: /^Try on My board/ }).click();
  await expect(page).toHaveURL(/change\/\?setup=kept-.*with=RKV:2-1&station=RKV/);
  await songs.getByText('By my songs').click();
  await songs.getByRole('button', { name: 'Measure by these songs' }).click();
  await expect(songs.getByRole('status')).toContainText('1 song can be played now.');
  await page.getByRole('button', { name: 'Apply' }).click();
  await expect(page.getByText('✓ Applied to “My board”.')).toBeVisible();
});
