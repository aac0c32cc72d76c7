/** Ways through several places, as players go them: nothing is typed twice, every answer is heard. */
import { readFileSync } from 'node:fs';
import { readFile } from 'node:fs/promises';
import { type Page } from '@playwright/test';
import { inRoot } from '../../scripts/lib/root.mjs';
import { heard, listen } from './outlet';
import { expect as impatient, Gripwright, keptPageTest as test, test as freshTest } from './page';
import { ShelfPage } from './shelfPage';

// whole setups are searched on the way; a busy machine takes its time
const expect = impatient.configure({ timeout: 30_000 });
test.describe.configure({ timeout: 120_000 });

const sounds = (page: Page): Promise<void> =>
  expect.poll(async () => (await heard(page)).loudness).toBeGreaterThan(0.005);
const ways = (page: Page) => page.locator('ol > li[data-place]');

freshTest.describe('the first visit on a phone', () => {
  freshTest.use({ viewport: { width: 360, height: 740 }, hasTouch: true, isMobile: true });

  freshTest(
    'one tap is heard; C♯m7, its third voicing, its tablature, into a progression',
    async ({ page }) => {
      await listen(page);
      const gripwright = new Gripwright(page);
      await gripwright.open();
      await gripwright.play.tap();
      await sounds(page);

      await gripwright.chord.fill('C#m7');
      await gripwright.chord.press('Enter');
      await expect(gripwright.heading).toContainText('C♯m7');
      await gripwright.rows.nth(2).tap();
      await expect(gripwright.rows.nth(2)).toHaveAttribute('aria-current', 'true');
      const held = await gripwright.rows.nth(2).getAttribute('aria-label');
      await gripwright.unfold('Tablature');
      const tab = page.getByRole('group', { name: 'Tablature as text' });
      await expect(tab).toContainText('C♯m7');
      const strings = (await tab.innerText()).split('\n').filter((line) => /\|.*\d/u.test(line));
      expect(strings.length).toBeGreaterThanOrEqual(3);

      await page.getByRole('button', { name: 'Add to the piece' }).tap();
      await expect(page).toHaveURL(/\/arrange\//);
      await expect(ways(page)).toHaveCount(1);
      await expect(
        page.getByRole('button', { name: 'Keep voicing of measure 1, C sharp m7' }),
      ).toHaveAttribute('aria-pressed', 'true');
      const fret = /[Ff]ret (\d+)/u.exec(held ?? '')?.[1];
      await expect(ways(page).first()).toContainText(`fret ${fret}`);

      // the next one goes behind it, and a reload adds nothing
      await page.getByRole('button', { name: 'Places, now Arrange' }).tap();
      await page.getByRole('link', { name: 'Explore' }).tap();
      await expect(gripwright.heading).toContainText(/^C /);
      await gripwright.ask('F#m7');
      await expect(gripwright.heading).toContainText('F♯m7');
      await page.getByRole('button', { name: 'More', exact: true }).tap();
      await page.getByRole('button', { name: 'Add to the piece' }).tap();
      await expect(ways(page)).toHaveCount(2);
      await expect(page).not.toHaveURL(/[?&]add=/);
      await page.reload();
      await expect(ways(page)).toHaveCount(2);
    },
  );
});

test('a free lever: what it could do, the second answer, heard, kept by name, on paper', async ({
  page,
}) => {
  await listen(page);
  await page.goto('bench/');
  const free = page.getByRole('group', { name: 'Pedals and levers' });
  await free.getByRole('combobox', { name: 'Station' }).selectOption('RKV');
  await page.getByRole('link', { name: 'What could it do there?' }).click();
  await page.getByRole('button', { name: 'Search for the best pulls' }).click();
  await expect(page.getByText(/, all of them\./)).toBeVisible({ timeout: 60_000 });
  const second = page
    .getByRole('list', { name: 'Pull sets, highest score first' })
    .getByRole('listitem');
  // the strings' own word on it stands beside the answer
  await expect(second.nth(1)).toContainText(/✓ \d+\.\d semitones/);
  await second.nth(1).getByRole('button', { name: /^Try / }).click();
  await expect(page.locator('.sum')).toContainText(/new,\s+[\d,]+ lost/);
  await expect(page.getByRole('list', { name: 'Strings', exact: true })).toHaveCount(0);

  const fresh = page
    .getByRole('region', { name: 'Voicings' })
    .getByRole('button', { name: /^Play: / });
  for (let row = 0; row < 5; row++) {
    await fresh.nth(row).click();
    await sounds(page);
    await page.keyboard.press('Escape');
  }

  await page.getByRole('button', { name: 'Apply' }).click();
  await page.getByRole('link', { name: 'Open it on the Bench' }).click();
  const grid = page.getByRole('grid');
  await expect(grid.getByRole('columnheader', { name: /^Lever RKV/ })).toBeVisible();
  await page.getByRole('button', { name: 'Setup actions' }).click();
  await page.getByRole('button', { name: 'Versions', exact: true }).click();
  await page
    .getByRole('textbox', { name: 'Name for it as it is now' })
    .fill('with the fourth knee');
  await page.getByRole('button', { name: 'Save this version' }).click();
  await expect(page.getByRole('dialog', { name: /^Versions of/ })).toContainText(
    'with the fourth knee',
  );

  await page.keyboard.press('Escape');
  await page.getByRole('link', { name: 'Sheet', exact: true }).click();
  await expect(page.locator('svg text', { hasText: 'RKV' }).first()).toBeVisible();
  await page.emulateMedia({ media: 'print' });
  const sheet = page.locator('svg').filter({ hasText: 'RKV' }).first();
  await expect(sheet).toBeVisible();
  await expect(page.getByRole('button', { name: 'Print', exact: true })).toBeHidden();
  const words = (await page.locator('svg text').allTextContents()).join(' ');
  expect(words).toMatch(/eye\s+protection/);
});

test('two setups: a friend’s link beside mine, the one chord, where it lies, and heard', async ({
  page,
  browser,
}) => {
  const theirs = await browser.newPage();
  const shelf = new ShelfPage(theirs);
  await shelf.open();
  const file = JSON.parse(readFileSync(inRoot('shared/setups/c6.json'), 'utf8')) as object;
  const friend = JSON.stringify({ ...file, name: 'A friend’s board' });
  await shelf.drop([{ name: 'board.json', content: friend }]);
  await shelf.button('A friend’s board', 'Share').click();
  const link = await shelf.dialog.getByRole('textbox', { name: /^Link/ }).inputValue();
  await theirs.close();

  await listen(page);
  await page.goto(link);
  await expect(page.getByRole('heading', { level: 1 })).toHaveText('A friend’s board');
  await page.getByRole('combobox', { name: 'Beside a setup of yours' }).selectOption('e9');
  await page.getByRole('button', { name: 'Compare the two' }).click();
  await page.getByRole('radio', { name: /^Only .*friend/i }).check();
  const found = page.getByRole('list', { name: /^Only .*friend/i }).getByRole('listitem');
  await found
    .first()
    .getByRole('button', { name: /^Play / })
    .click();
  await sounds(page);
  await page.keyboard.press('Escape');
  await found
    .first()
    .getByRole('link', { name: /on the neck of/ })
    .click();
  await expect(page.getByRole('heading', { level: 1 })).toHaveText('Explore');
  const gripwright = new Gripwright(page);
  await expect(gripwright.setup.locator('option:checked')).toHaveText('A friend’s board');
  await gripwright.play.click();
  await sounds(page);
});

test('a song: pasted, the best arrangements, one fret kept, slower, saved, there tomorrow', async ({
  page,
}) => {
  await listen(page);
  await page.goto('arrange/');
  const field = page.getByRole('textbox', { name: /^Chords/ });
  // the page is at work once it has arranged its own example
  await expect(ways(page)).not.toHaveCount(0);
  const song =
    '{title: Rain on the tin roof}\n{start_of_verse}\n[G]Rain on the [C]roof and the [D7]kettle is [G]on\n{end_of_verse}\n';
  await field.evaluate((area, text) => {
    const clipboardData = new DataTransfer();
    clipboardData.setData('text/plain', text);
    area.dispatchEvent(
      new ClipboardEvent('paste', { clipboardData, bubbles: true, cancelable: true }),
    );
  }, song);
  await expect(page.getByRole('textbox', { name: 'Title' })).toHaveValue('Rain on the tin roof');
  await expect(ways(page)).toHaveCount(4);
  await page.getByRole('button', { name: /^Measure \d+ C$/ }).click();
  await page.getByRole('button', { name: /^Keep fret of measure \d+, C$/ }).click();
  await page.getByRole('spinbutton', { name: 'Tempo', exact: true }).fill('50');
  await page.getByRole('checkbox', { name: 'Count in' }).uncheck();
  await page.getByRole('button', { name: 'Play', exact: true }).click();
  await sounds(page);
  await page.keyboard.press('Escape');
  await page.getByRole('button', { name: 'Keep on this device' }).click();
  await expect(page).toHaveURL(/\?progression=/);

  const saves = async (press: () => Promise<void>): Promise<string> => {
    const [download] = await Promise.all([page.waitForEvent('download'), press()]);
    return readFile(await download.path(), 'latin1');
  };
  const score = await saves(() => page.getByRole('button', { name: 'Save', exact: true }).click());
  expect(score).toContain('<score-partwise version="4.0">');
  const tablature = page.getByRole('group', { name: 'The staff and tablature on paper' });
  const paper = await saves(() => tablature.getByRole('button', { name: 'Save PDF' }).click());
  expect(paper.startsWith('%PDF-')).toBe(true);

  // tomorrow
  const address = page.url();
  await page.goto('about:blank');
  await page.goto(address);
  await expect(page.getByRole('textbox', { name: 'Title' })).toHaveValue('Rain on the tin roof');
  await page.getByRole('button', { name: /^Measure \d+ C, kept$/ }).click();
  await expect(page.getByRole('button', { name: /^Keep fret of / })).toHaveAttribute(
    'aria-pressed',
    'true',
  );
  // the setup goes along to the other places
  await expect(page.getByRole('link', { name: 'Bench' })).toHaveAttribute('href', /bench/);
});

test('tuning day: fitted to my songs, the tuner at hand, the numbers on the bench sheet', async ({
  page,
}) => {
  await page.goto(`arrange/?chords=${encodeURIComponent('E | A | B7 | E')}`);
  await page.getByRole('link', { name: 'Tune the setup for these chords' }).click();
  await page.getByRole('button', { name: 'Options' }).click();
  await expect(page.getByRole('textbox', { name: 'Chords to tune for' })).toHaveValue('E A B7');
  const target = page
    .getByRole('table', { name: 'Tuning targets' })
    .getByRole('row')
    .filter({ has: page.getByRole('rowheader', { name: '3', exact: true }) })
    .first();
  // G♯ is the third of E: well below equal temperament
  await expect(target).toContainText(/−1\d\.\d/);
  const cents = /−\d+\.\d/u.exec(await target.innerText())?.[0] ?? 'none';
  await page.getByRole('button', { name: 'Apply to the setup' }).click();
  await expect(page.getByText('A copy is kept on this device')).toBeVisible();
  await expect(page.getByRole('button', { name: 'Listen' })).toBeEnabled();
  await page.getByRole('link', { name: 'Sheet', exact: true }).click();
  await expect(page).toHaveURL(/sheet\/\?setup=kept-/);
  await expect(page.locator('svg text', { hasText: cents }).first()).toBeVisible();
});
