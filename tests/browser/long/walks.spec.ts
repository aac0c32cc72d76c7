/**
 * Walks through several places with trouble in the middle: the network cut, no room on the device, a second tab, a
 * tab that is killed. Nothing kept is lost, and what cannot be is said in a sentence. The songs are made up.
 */
import { type Locator, type Page } from '@playwright/test';
import { plugIn, press } from '../keyboards';
import { heard, listen } from '../outlet';
import { Gripwright, expect as impatient, test, type Trouble } from '../page';
import { fileOf, ShelfPage } from '../shelfPage';
import { siteTest, visit } from '../site';

const expect = impatient.configure({ timeout: 60_000 });

const SONGS = [
  { name: 'Dark well.txt', mimeType: 'text/plain', buffer: Buffer.from('G | Gm | G | C') },
  { name: 'Bright well.txt', mimeType: 'text/plain', buffer: Buffer.from('G | C | G') },
];

/** Keeps a small setup on the device, and gives its id. */
async function keepMine(page: Page): Promise<string> {
  const shelf = new ShelfPage(page);
  await shelf.open();
  await shelf.drop([{ name: 'mine.json', content: fileOf('My board') }]);
  await expect(shelf.names.first()).toHaveText('My board');
  return page.evaluate(() => {
    const link = document.querySelector<HTMLAnchorElement>('a[href*="setup=kept-"]');
    return new URL(link?.href ?? '').searchParams.get('setup') ?? '';
  });
}

const several = (page: Page): Locator =>
  page.getByRole('region', { name: 'Several stations at once' });

/** Two levers by my songs, up to the button that searches. */
async function askForTwo(page: Page, strings = 'one'): Promise<void> {
  await page.getByRole('button', { name: 'Two or three stations together' }).click();
  await several(page).getByLabel('What counts').selectOption('my songs');
  await several(page).getByLabel('Open song files…').setInputFiles(SONGS);
  await expect(several(page)).toContainText('2 songs count');
  await several(page).getByLabel('First station').selectOption('LKV');
  await several(page).getByLabel('Second station').selectOption('RKV');
  await several(page).getByLabel('Strings of each').selectOption(strings);
}

const noSound = (trouble: Trouble): void =>
  trouble.allow(
    /ERR_CONNECTION_REFUSED|Failed to load resource|service-worker|fetching the script/,
  );

siteTest(
  'with the network cut, levers, a friend’s setup and a keyboard go all the way',
  async ({ page, site, trouble }) => {
    await plugIn(page);
    await listen(page);
    await visit(page);
    await site.cut();
    noSound(trouble);
    const id = await keepMine(page);

    await page.goto(`change/?setup=${id}`);
    await askForTwo(page);
    await several(page).getByRole('button', { name: 'Search both' }).click();
    await expect(several(page)).toContainText(/arranged with (\d+)\s+of \1\./);
    await several(page)
      .getByRole('button', { name: /^Try number 1:/ })
      .click();
    await page.getByRole('button', { name: 'Apply' }).click();
    await expect(page.getByText('✓ Applied to “My board”.')).toBeVisible();
    for (const name of ['Do the strings bear it?', 'Rods, holes and stops', /^tune the open/]) {
      await page.getByRole('link', { name }).click();
      await expect(page.getByRole('heading', { level: 1 })).toContainText('My board');
    }

    // what a setup is compared with, and tried from there
    await page.goto(`compare/?setup=${id}&with=e9`);
    await page.getByRole('region', { name: 'By my songs' }).getByText('By my songs').click();
    await page.getByRole('button', { name: 'Measure by these songs' }).click();
    await expect(page.getByRole('list', { name: 'Song by song' }).locator('> li')).toHaveCount(2);

    const gripwright = new Gripwright(page);
    await gripwright.open();
    await gripwright.unfold('MIDI keyboard');
    await page.getByRole('button', { name: 'Use a MIDI keyboard' }).click();
    await press(page, [60, 64, 67]);
    await expect(gripwright.chord).toHaveValue('C4 E4 G4');
    await page.getByRole('button', { name: 'Scale', exact: true }).click();
    await page.getByRole('button', { name: 'Ladder' }).click();
    await page.locator('summary', { hasText: 'Band' }).click();
    await page.getByRole('combobox', { name: 'Feel' }).selectOption('Shuffle');
    await page.getByRole('button', { name: 'Play the ladder' }).click();
    await expect.poll(async () => (await heard(page)).loudness).toBeGreaterThan(0.005);
    await expect(page.getByRole('alert')).toHaveCount(0);
  },
);

test('on a device with no room, what is not kept is said, and what was kept is as it was', async ({
  page,
  trouble,
}) => {
  trouble.allow(/quota/i);
  const id = await keepMine(page);
  const session = await page.context().newCDPSession(page);
  const origin = new URL(page.url()).origin;
  // all that the page's own small settings may take
  await page.evaluate(() => {
    for (let size = 1 << 20; size > 0; size >>= 1)
      try {
        for (let part = 0; ; part++) localStorage.setItem(`full-${size}-${part}`, 'x'.repeat(size));
      } catch {
        // there is no room for so much; half of it perhaps
      }
  });
  await session.send('Storage.overrideQuotaForOrigin', { origin, quotaSize: 1 });
  // Chromium goes by the room that it saw at the last write, for half a minute
  await page.waitForTimeout(31_000);

  await page.goto(`change/?setup=${id}`);
  await askForTwo(page);
  await expect(several(page).getByRole('alert')).toContainText(
    'These songs are there until the page is closed: the device keeps no more.',
  );
  await several(page).getByRole('button', { name: 'Search both' }).click();
  await expect(several(page)).toContainText(/arranged with (\d+)\s+of \1\./);
  await several(page)
    .getByRole('button', { name: /^Try number 1:/ })
    .click();
  await page.getByRole('button', { name: 'Apply' }).click();
  await expect(page.getByRole('alert').filter({ hasText: 'not kept' }).first()).toContainText(
    'the space that this browser gives is full',
  );

  await session.send('Storage.overrideQuotaForOrigin', { origin });
  await page.evaluate(() => localStorage.clear());
  await page.goto('bench/setups/');
  await expect(new ShelfPage(page).names.first()).toHaveText('My board');
});

test('a second tab that changes the same setup, and songs: both are there', async ({
  page,
  context,
}) => {
  const id = await keepMine(page);
  const other = await context.newPage();
  await page.goto(`change/?setup=${id}&with=LKV:2-1&station=LKV`);
  await other.goto(`change/?setup=${id}&with=RKV:1%2B2&station=RKV`);
  for (const tab of [page, other]) await expect(tab.getByText(/score [+−]/)).toBeVisible();
  for (const [at, tab] of [page, other].entries()) {
    const songs = tab.getByRole('region', { name: 'By my songs' });
    await songs.getByText('By my songs').click();
    await songs.getByLabel('Open song files…').setInputFiles(SONGS.slice(at, at + 1));
    const name = at === 0 ? 'Dark well' : 'Bright well';
    await songs.getByRole('combobox', { name: `Weight of ${name}` }).selectOption('twice');
    await tab.getByRole('button', { name: 'Apply' }).click();
    await expect(tab.getByText('✓ Applied to “My board”.')).toBeVisible();
  }
  await page.goto(`bench/?setup=${id}`);
  for (const lever of ['LKV', 'RKV'])
    await expect(
      page.getByRole('columnheader', { name: new RegExp(`^Lever ${lever}`) }),
    ).toBeVisible();
  await page.goto(`change/?setup=${id}`);
  const songs = page.getByRole('region', { name: 'By my songs' });
  await songs.getByText('By my songs').click();
  for (const name of ['Dark well', 'Bright well'])
    await expect(songs.getByRole('combobox', { name: `Weight of ${name}` })).toHaveValue('2');
});

test('a tab that is killed in the middle of a search goes on in another one', async ({
  context,
}) => {
  const first = await context.newPage();
  await first.goto('change/?setup=e9');
  await askForTwo(first, 'up to two');
  await several(first).getByRole('button', { name: 'Search both' }).click();
  const told = several(first).getByRole('status').filter({ hasText: 'looked at' });
  await expect(told).toContainText(/[1-9][\d,]* weighed/);
  const session = await context.newCDPSession(first);
  const crashed = first.waitForEvent('crash');
  // the answer never comes
  session.send('Page.crash').catch(() => undefined);
  await crashed;
  await first.close();

  const again = await context.newPage();
  await again.goto('change/?setup=e9');
  await again.getByText('Several stations at once').click();
  await expect(several(again)).toContainText('2 songs count');
  await expect(several(again).getByLabel('Second station')).toHaveValue('RKV');
  await expect(several(again).getByRole('status').filter({ hasText: 'looked at' })).toContainText(
    /[1-9][\d,]* weighed/,
  );
});
