/**
 * From levers that are free and songs that are to be played to a sheet for the bench: every step leads to the
 * next by something that can be pressed. Songs are made up.
 */
import { expectNoObjection } from './axe';
import { expect, keptPageTest as test } from './page';
import { hasPoppler, printPressed } from './printed';

const file = (name: string, text: string) => ({
  name,
  mimeType: 'text/plain',
  buffer: Buffer.from(text),
});

test('from two free levers and my songs to a rigging sheet and the tuning', async ({
  page,
  context,
}) => {
  const first = await context.newPage();
  const several = (on: typeof page) => on.getByRole('region', { name: 'Several stations at once' });
  const SONGS = [
    file('plain.txt', 'C | F | G | C'),
    // six strings in C6 have no C, E and G sharp under a bar, straight or slanted
    file('lifted.txt', 'C | Caug | Am | C'),
  ];

  await test.step('songs are opened as the measure, two stations chosen, the search begun', async () => {
    await first.goto('change/?station=LKV&setup=lap6-c6');
    await first.getByText('Several stations at once').click();
    const asked = several(first);
    await asked.getByLabel('What counts').selectOption('my songs');
    await expect(asked).toContainText('Open your songs first');
    await asked.getByLabel('Open song files…').setInputFiles(SONGS);
    await expect(asked).toContainText('2 songs count');
    await asked.getByLabel('Second station').selectOption('RKV');
    await asked.getByLabel('Third station').selectOption('LKL');
    await expect(asked.getByRole('button', { name: 'Search all three' })).toBeVisible();
    await expect(asked.getByLabel('Strings of each').getByRole('option')).toHaveCount(2);
    await asked.getByLabel('Third station').selectOption('none');
    await asked.getByLabel('Strings of each').selectOption('one');
    // six strings, each three semitones up or down: one station, the other, both
    await expect(asked).toContainText('All 1,368 choices count');
    await asked.getByRole('button', { name: 'Search both' }).click();
    const told = asked.getByRole('status').filter({ hasText: 'looked at' });
    await expect(told).toContainText('all of them');
    await expect(asked.getByRole('status').filter({ hasText: 'arranged with' })).toContainText(
      /The 2 songs arranged with (\d+)\s+of \1\./,
    );
    // what a song that cannot be played now has of it is said, and stands first
    await expect(
      asked
        .getByRole('list', { name: /^Pulls for all/ })
        .locator('> li')
        .first(),
    ).toContainText('▴ lifted can be played now');
  });

  const asked = several(page);
  await test.step('closed and opened again it stands where it was, and one is tried', async () => {
    await first.close();
    await page.goto('change/?setup=lap6-c6');
    await page.getByText('Several stations at once').click();
    await expect(asked.getByLabel('Second station')).toHaveValue('RKV');
    await expect(asked).toContainText('Begun before');
    // by the same songs, which are there still, and the best for them can be heard
    await expect(asked).toContainText('2 songs count');
    await expect(
      asked
        .getByRole('list', { name: 'Pulls for all of them, those that do most for my songs first' })
        .locator('> li')
        .first(),
    ).toContainText('▴ lifted can be played now');
    await asked
      .getByRole('button', { name: /^Play: / })
      .first()
      .press('Enter');
    await asked.getByRole('button', { name: /^Stop: / }).press('Enter');
    const steps = asked.getByRole('list', { name: 'Best score by strings moved' });
    await expect(steps.getByRole('button')).toHaveCount(2);
    await steps.getByRole('button').last().press('Enter');
    await expect(page).toHaveURL(/with=LKV:.*with=RKV:/);
    await expectNoObjection(page, 'several stations');
  });

  await test.step('before and after is seen, and song by song what it saves', async () => {
    await asked.getByRole('button', { name: 'Before and after' }).press('Enter');
    await expect(page.getByRole('region', { name: 'What it gives' })).toBeInViewport();
    await asked.getByRole('button', { name: 'Song by song' }).press('Enter');
    const songs = page.getByRole('region', { name: 'By my songs' });
    await songs.getByRole('button', { name: 'Measure by these songs' }).click();
    await expect(songs.getByRole('list', { name: 'Song by song' }).locator('> li')).toHaveCount(2);
  });

  await test.step('taken over, the strings are asked, the rods rigged, the sheet printed, all of it tuned', async () => {
    await page.getByRole('button', { name: 'Apply' }).click();
    await page.getByRole('link', { name: 'Do the strings bear it?' }).click();
    await expect(page.getByRole('heading', { name: 'Pull lengths and effort' })).toBeVisible();
    await page.getByRole('link', { name: 'Rods, holes and stops' }).click();
    for (const id of ['LKV', 'RKV'])
      await expect(page.getByRole('table', { name: `${id}: its rods` })).toBeVisible();
    if (hasPoppler) expect((await printPressed(page)).text).toMatch(/LKV[\s\S]*RKV/);
    await page.getByRole('link', { name: /^tune the open strings/ }).click();
    await expect(page.getByRole('region', { name: 'Targets' })).toContainText('RKV');
  });
});
