/**
 * Two levers that are free on a player's own instrument, on a phone: by my songs to pulls, to the work at the
 * bench and to a tuning for these songs. The songs are made up. A triad in root position on the open strings, whose
 * third a lever lowers, is minor: that is what the one song lacks.
 */
import { expect, keptPageTest as test } from './page';
import { ShelfPage, fileOf } from './shelfPage';

test.use({ viewport: { width: 390, height: 844 } });

const song = (name: string, text: string) => ({
  name,
  mimeType: 'text/plain',
  buffer: Buffer.from(text),
});

test('two free levers and my songs: pulls, tried where they stand, the rig from today’s, tuned for the songs', async ({
  page,
}) => {
  const shelf = new ShelfPage(page);
  await shelf.open();
  const strings = [
    { open: 'D4', gauge: 0.014 },
    { open: 'B3', gauge: 0.017 },
    { open: 'G3', gauge: 0.02 },
  ];
  const mine = fileOf('My board', { scaleLengthMm: 610, necks: [{ name: 'G', strings }] });
  await shelf.drop([{ name: 'mine.json', content: mine }]);
  await expect(shelf.names).toHaveText(['My board']);
  const [id] = await page.evaluate(() =>
    [...document.querySelectorAll('a[href*="setup=kept-"]')].map(
      (link) => new URL((link as HTMLAnchorElement).href).searchParams.get('setup') ?? '',
    ),
  );
  await page.goto(`change/?setup=${id}`);
  const several = page.getByRole('region', { name: 'Several stations at once' });
  await page.getByRole('button', { name: 'Two or three stations together' }).click();
  await several.getByLabel('What counts').selectOption('my songs');
  await several
    .getByLabel('Open song files…')
    .setInputFiles([song('Dark well.txt', 'G | Gm | G | C'), song('Bright well.txt', 'G | C | G')]);
  await expect(several).toContainText('2 songs count');
  await several.getByLabel('First station').selectOption('LKV');
  await several.getByLabel('Second station').selectOption('RKV');
  await several.getByLabel('Strings of each').selectOption('one');
  await several.getByRole('button', { name: 'Search both' }).click();

  await test.step('all that is shown is arranged, and one is tried in its row', async () => {
    const rows = several.getByRole('list', { name: /^Pulls for all/ }).locator('> li');
    const arranged = several.getByRole('status').filter({ hasText: 'arranged with' });
    await expect(arranged).toContainText(/arranged with (\d+)\s+of \1\./, { timeout: 30_000 });
    const many = /arranged with (\d+)/.exec(await arranged.innerText())?.[1];
    await expect(rows).toHaveCount(Number(many));
    await expect(rows.first()).toContainText('▴ Dark well can be played now');
    await rows
      .first()
      .getByRole('button', { name: /^Try number 1:/ })
      .click();
    // whoever tries one has the ways on from it under the thumb
    await expect(rows.first().getByRole('button', { name: 'Song by song' })).toBeInViewport();
    await rows.first().getByRole('button', { name: 'Song by song' }).click();
    const songs = page.getByRole('region', { name: 'By my songs' });
    await songs.getByRole('button', { name: 'Measure by these songs' }).click();
    await expect(songs.getByRole('status')).toContainText('1 song can be played now.');
  });

  await test.step('applied to my own setup, and kept as it was for the way to the new rig', async () => {
    await page.getByRole('button', { name: 'Apply' }).click();
    await expect(page.getByText('✓ Applied to “My board”.')).toBeInViewport();
    const tune = page.getByRole('link', { name: 'Tune it for my songs' });
    // G five times, C twice, Gm once
    await expect(tune).toHaveAttribute('href', /chords=G\+C\+Gm$/);
    const tuning = (await tune.getAttribute('href')) ?? '';
    await page.getByRole('button', { name: /^Keep it as it was too/ }).click();
    await expect(page.getByText('kept as “My board, as it was” too')).toBeVisible();
    await page.getByRole('link', { name: 'Change from today’s rig to it' }).click();
    const way = page.getByRole('region', { name: 'Change to another rig' });
    await expect(way.getByRole('row').filter({ hasText: 'rod on' })).toHaveCount(2);
    await expect(page.getByRole('heading', { level: 1 })).toContainText('as it was');

    await page.goto(tuning);
    await page.getByRole('button', { name: 'Options' }).click();
    await expect(page.getByRole('textbox', { name: 'Chords to tune for' })).toHaveValue('G C Gm');
  });
});
