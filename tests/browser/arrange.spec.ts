/**
 * The place Arrange: from chords to the best arrangement of them, as they are written, heard, saved,
 * kept and shared. What is found and told is `tests/unit/ui/progressionState.test.ts`, what is kept
 * `tests/unit/ui/progressionKeeping.test.ts`.
 */
import { type Locator, type Page } from '@playwright/test';
import { readFile } from 'node:fs/promises';
import { expect, keptPageTest as test } from './page';

// each is a walk of many steps in one page
test.describe.configure({ timeout: 120_000 });

const open = async (page: Page, chords?: string, more = ''): Promise<void> => {
  const query = chords === undefined ? '' : `?chords=${encodeURIComponent(chords)}${more}`;
  await page.goto(`arrange/${query}`);
  await expect(page.getByRole('heading', { name: 'Arrangement', exact: true })).toBeVisible({
    timeout: 20_000,
  });
};
const cards = (page: Page): Locator => page.locator('ol > li[data-place]');
/** What is pressed to work on a chord, from 0. */
const card = (page: Page, at: number): Locator =>
  cards(page)
    .nth(at)
    .getByRole('button', { name: /^Measure/ });
const title = (page: Page): Locator => page.getByRole('textbox', { name: 'Title' });
const unfold = (page: Page, fold: string): Promise<void> =>
  page.locator('summary', { hasText: fold }).click();
const chords = (page: Page): Locator => page.getByRole('textbox', { name: /^Chords/ });

test('a piece is written, with preferences, kept in parts and moved, and its address brings it back', async ({
  page,
}) => {
  await test.step('one, four, one at one fret: nothing, A and B, nothing, with the bar still', async () => {
    // common practice on E9: at fret 3, G is there with nothing pressed and C under A and B
    await open(page, 'G | C | G', '&home=3');
    await expect(cards(page)).toHaveCount(3);
    await expect(cards(page).nth(0)).toContainText('fret 3 –');
    await expect(cards(page).nth(1)).toContainText('bar stays: press A and B');
    await expect(cards(page).nth(2)).toContainText('bar stays: release A and B');
  });

  await test.step('another voicing is another one; a fret that is kept stays and the rest is found anew', async () => {
    const keepFret = page.getByRole('button', { name: 'Keep fret of measure 2, C' });
    const second = cards(page).nth(1);
    const words = (): Promise<string[]> =>
      second.locator('.place, .notes, .picked').allInnerTexts();
    const before = await words();
    await card(page, 1).click();
    await page.getByRole('button', { name: 'Another voicing for measure 2, C' }).click();
    await expect.poll(words).not.toEqual(before);
    // and is told to whoever does not see it
    await expect(
      page.getByRole('status').filter({ hasText: /^Measure 2, C major: fret \d+, .*, strings \d/ }),
    ).toHaveCount(1);
    const place = await cards(page).nth(1).locator('.place').innerText();
    await keepFret.click();
    await expect(page).toHaveURL(/locks=2/);
    await unfold(page, 'Preferences');
    await page.getByRole('textbox', { name: 'Grips to avoid' }).fill('8-9-10');
    await page.getByRole('textbox', { name: 'Grips to avoid' }).press('Enter');
    await expect(page).toHaveURL(/avoid=8-9-10/);
    const fret = /fret (\d+)/.exec(place)?.[1] ?? 'none';
    await expect(cards(page).nth(1)).toContainText(`fret ${fret}`);
    await expect(keepFret).toHaveAttribute('aria-pressed', 'true');
  });

  await test.step('a preference that cannot be read says so beside its field, and the last answer stays', async () => {
    const frets = page.getByRole('textbox', { name: /^Frets/ });
    await frets.fill('low');
    await frets.press('Enter');
    await expect(page.getByText(/^⚠ Frets: found “low”/)).toBeVisible();
    await expect(cards(page)).toHaveCount(3);
    await frets.fill('');
    await frets.press('Enter');
    await expect(page.getByText(/^⚠ Frets: found “low”/)).toBeHidden();
  });

  await test.step('what cannot be read is told at its place, and the rest is taken', async () => {
    await chords(page).fill('G | Hx | C | G | G');
    await expect(page.getByText(/^⚠ Not read: .*Hx/).filter({ visible: true })).toBeVisible();
    await expect(cards(page)).toHaveCount(4);
  });

  await test.step('without a chord it says what to write', async () => {
    await chords(page).fill('');
    await expect(page.getByText('No chords yet.')).toBeVisible();
    // to have written nothing is no mistake
    await expect(page.getByText(/Not read/)).toHaveCount(0);
    await expect(page.getByRole('textbox', { name: 'Key' })).toHaveAttribute(
      'placeholder',
      'none yet',
    );
  });

  await test.step('a semitone higher, other arrangements, and the address brings it all back', async () => {
    await chords(page).fill('key: G\nG | C | D7');
    await expect(cards(page)).toHaveCount(3);
    await page.getByRole('button', { name: 'A semitone higher' }).click();
    await expect(chords(page)).toHaveValue(/Ab \| Db \| Eb7/);
    await expect(cards(page).first()).toContainText('A♭');
    await unfold(page, 'Effort of the best arrangements');
    const ways = page.getByRole('table');
    await expect(ways.getByRole('row').nth(1)).toHaveAttribute('aria-current', 'true');
    await expect(page).toHaveURL(/Ab/);
    await page.reload();
    await expect(cards(page).first()).toContainText('A♭');
  });

  await test.step('a piece too long for an address is there after a reload', async () => {
    const long = Array.from({ length: 900 }, (_, bar) => (bar % 2 === 0 ? 'Gmaj7' : 'Cmaj7')).join(
      ' | ',
    );
    expect(long.length).toBeGreaterThan(6000);
    await chords(page).fill(`title: Long way home\n${long.slice(0, 4397)} | D`);
    await chords(page).press('Tab');
    await expect(page).toHaveURL(/long-text/);
    await page.reload();
    await expect(title(page)).toHaveValue('Long way home');
    await expect(chords(page)).toHaveValue(/^Gmaj7 \| Cmaj7 \|.* \| D$/);
  });

  await test.step('an address of before leads here, with all that it says, and leaves no entry', async () => {
    await page.goto('compare/');
    await page.goto(`progression/?setup=c6&chords=${encodeURIComponent('C | F')}&locks=2=fret:8`);
    await expect(page).toHaveURL(/\/arrange\/?\?setup=c6&chords=C/);
    await expect(cards(page)).toHaveCount(2);
    await expect(chords(page)).toHaveValue('C | F');
    await expect(cards(page).nth(1)).toHaveClass(/kept/);
    await page.goBack();
    await expect(page).toHaveURL(/\/compare/);
  });

  await test.step('title, tempo, key and metre are fields, and said in the address as before', async () => {
    await page.goto(
      `arrange/?chords=${encodeURIComponent('title: Harbour\ntempo: 9000\nG | C\n[Verse]\nD7 | Hx')}`,
    );
    const field = (name: string): Locator => page.getByRole('textbox', { name, exact: true });
    await expect(title(page)).toHaveValue('Harbour');
    await expect(chords(page)).toHaveValue('G | C\n[Verse]\nD7 | Hx');
    // what cannot be read is told by its field, else by its place in what is written below them
    await expect(field('Tempo')).toHaveAttribute('aria-invalid', 'true');
    await expect(page.getByText('Not read: Tempo: found “9000”')).toBeVisible();
    await expect(page.getByText('Not read: Line 3, place 6: found “Hx”')).toBeVisible();
    for (const [name, said] of [
      ['Tempo', '120'],
      ['Key', 'Eb'],
      ['Metre', '3/4'],
    ] as const) {
      await field(name).fill(said);
      await field(name).press('Tab');
    }
    await expect(field('Tempo')).toHaveAttribute('aria-invalid', 'false');
    await expect(page).toHaveURL(
      (url) =>
        url.searchParams.get('chords') ===
        'title: Harbour\nkey: Eb\ntempo: 120\nmetre: 3/4\nG | C\n[Verse]\nD7 | Hx',
    );
    // a head among the chords goes to its field, once it is written
    await chords(page).fill('tempo: 90\nC | F');
    await chords(page).press('Tab');
    await expect(chords(page)).toHaveValue('C | F');
    await expect(field('Tempo')).toHaveValue('90');
  });

  await test.step('an address of a piece that is not there says so', async () => {
    await page.goto('arrange/?progression=kept-nowhere');
    await expect(page.getByRole('alert')).toContainText('There is no progression');
  });

  await test.step('a preference that cannot be read is told, and no chord said to be missing', async () => {
    await page.goto('arrange/?chords=G&frets=low');
    await expect(page.getByRole('alert')).toContainText(
      'The preference “frets” cannot be read, so nothing is arranged: found “low”',
    );
    await expect(page.getByText('No chords yet')).toHaveCount(0);
  });
});

test('it is heard in time, saved as sound, and goes to the printer', async ({ page }) => {
  await open(page, 'tempo: 240\nG | C | G | C');

  await test.step('the strip follows what is heard, and Escape stops', async () => {
    await page.getByRole('checkbox', { name: 'Count in' }).uncheck();
    await page.getByRole('button', { name: 'Play', exact: true }).click();
    await expect(cards(page).nth(1)).toHaveClass(/heard/, { timeout: 10_000 });
    await page.keyboard.press('Escape');
    await expect(page.getByRole('button', { name: 'Play', exact: true })).toBeVisible();
    await expect(page.locator('li.heard')).toHaveCount(0);
  });

  await test.step('the arrangement is saved as sound', async () => {
    await page.getByRole('checkbox', { name: 'Count in' }).check();
    await chords(page).fill('title: Shed song\ntempo: 240\nG | C');
    await expect(cards(page)).toHaveCount(2);
    const saving = page.waitForEvent('download');
    await page.getByRole('button', { name: 'Save the sound (WAV)' }).click();
    const saved = await saving;
    expect(saved.suggestedFilename()).toBe('Shed-song.wav');
    const bytes = await readFile(await saved.path());
    expect(bytes.subarray(0, 4).toString('latin1')).toBe('RIFF');
    // a measure of clicks and two measures of a second each, in two bytes a sample at least
    expect(bytes.length).toBeGreaterThan(3 * 44_100 * 2);
  });

  await test.step('the tablature goes to the printer', async () => {
    await page.evaluate(() => {
      window.print = () => document.body.setAttribute('data-printed', '');
    });
    const paper = page.getByRole('group', { name: 'The staff and tablature on paper' });
    await paper.getByRole('button', { name: 'Print' }).click();
    await expect(page.locator('body')).toHaveAttribute('data-printed', '');
  });
});

test('a song text is opened, and a score and a sheet are saved', async ({ page }) => {
  await open(page);
  await page.getByLabel('Open a file…').setInputFiles({
    name: 'lantern.cho',
    mimeType: 'text/plain',
    buffer: Buffer.from('{title: Lantern}\n[G]Lamps are [C]lit, the [D7]road goes [G]on\n'),
  });
  await expect(title(page)).toHaveValue('Lantern');
  await expect(cards(page)).toHaveCount(4);
  let tune = Buffer.alloc(0);
  for (const [ending, begins] of [
    ['musicxml', '<?xml'],
    ['pdf', '%PDF-'],
    ['mid', 'MThd'],
  ] as const) {
    await page.getByRole('combobox', { name: 'Save as' }).selectOption(ending);
    const saving = page.waitForEvent('download');
    await page.getByRole('button', { name: 'Save', exact: true }).click();
    const saved = await saving;
    if (ending === 'mid') tune = await readFile(await saved.path());
    expect(saved.suggestedFilename()).toBe(`Lantern.${ending}`);
    const bytes = await readFile(await saved.path());
    expect(bytes.subarray(0, begins.length).toString('latin1')).toBe(begins);
  }
  // what was saved as notes comes back as a tune under the chords
  await page
    .getByLabel('Open a file…')
    .setInputFiles({ name: 'tune.mid', mimeType: 'audio/midi', buffer: tune });
  await expect(chords(page)).toHaveValue(/melody:|G:[A-G]/);
  await expect(cards(page)).toHaveCount(4);
});

test('what is kept is listed, undone, followed from another tab, and shared', async ({
  page,
  browser,
}) => {
  await test.step('kept with every edit, undone after a reload, and listed', async () => {
    await open(page, 'title: Shed song\nG | C');
    await page.getByRole('button', { name: 'Keep on this device' }).click();
    await expect(page).toHaveURL(/progression=kept-/);
    await chords(page).fill('title: Shed song\nG | C | D7');
    await expect(cards(page)).toHaveCount(3);
    await expect(page.getByText('Kept on this device')).toBeVisible();
    await page.reload();
    await expect(cards(page)).toHaveCount(3);
    await page.getByRole('button', { name: 'Undo' }).click();
    await expect(cards(page)).toHaveCount(2);
    await page.getByRole('button', { name: 'Redo' }).click();
    await expect(cards(page)).toHaveCount(3);
    await page.getByRole('link', { name: 'All kept' }).click();
    await page.getByRole('link', { name: 'Shed song' }).click();
    await expect(cards(page)).toHaveCount(3);
  });

  await test.step('a preference of another tab is seen here, and not written over by the next edit', async () => {
    const other = await page.context().newPage();
    await other.goto(page.url());
    await unfold(other, 'Preferences');
    await other.getByRole('textbox', { name: 'Frets', exact: true }).fill('8-15');
    await other.getByRole('textbox', { name: 'Frets', exact: true }).press('Enter');
    await expect(page.getByText('1 set')).toBeVisible();
    await chords(page).fill('title: Shed song\nG | C | G');
    await expect(chords(other)).toHaveValue('G | C | G');
    await expect(title(other)).toHaveValue('Shed song');
    await expect(cards(page)).toHaveCount(3);
    await expect(cards(other)).toHaveCount(3);
    await expect(other.getByRole('textbox', { name: 'Frets', exact: true })).toHaveValue('8-15');
    await other.close();
  });

  await test.step('a link carries it, which is looked at before it is kept', async () => {
    await chords(page).fill('title: Shed song\nG | C:E4');
    await expect(cards(page)).toHaveCount(2);
    await expect(page.getByText('Kept on this device')).toBeVisible();
    await page.getByRole('link', { name: 'All kept' }).click();
    await page.getByRole('button', { name: 'Share' }).click();
    const link = await page.getByRole('textbox', { name: /^Link/ }).inputValue();
    const elsewhere = await browser.newContext();
    const other = await elsewhere.newPage();
    await other.goto(link);
    await expect(other.getByRole('heading', { level: 1 })).toHaveText('Shed song');
    await other.getByRole('link', { name: 'Try it without keeping' }).click();
    await expect(cards(other)).toHaveCount(2);
    await other.goto(link);
    await other.getByRole('button', { name: 'Keep it here' }).click();
    await expect(other).toHaveURL(/progression=kept-/);
    await expect(cards(other)).toHaveCount(2);
    await elsewhere.close();
  });
});

test('a chord that cannot be played: what is nearest is taken, or the one pull that would give it', async ({
  page,
}) => {
  await open(page, 'G | Cmaj7', '&match=complete&sizes=4-4&frets=3-3');
  await expect(cards(page)).toHaveCount(1);
  const trouble = page.getByRole('region', { name: 'Measure 2, Cmaj7' });
  await trouble.getByRole('button', { name: 'Which one pull would give it?' }).click();
  const pulls = trouble.getByRole('link');
  await expect(pulls.first()).toBeVisible({ timeout: 20_000 });
  await expect(pulls.first()).toHaveText(/(raises|lowers) string \d+ by/);
  await pulls.first().click();
  await expect(page).toHaveURL(/change\/?\?with=/);
  await expect(page.getByRole('status').filter({ hasText: /new, .*lost, .*score/ })).toBeVisible();
  await page.goBack();

  await trouble.getByRole('button', { name: /^Along the whole neck: / }).click();
  await expect(cards(page)).toHaveCount(2);
  await expect(trouble).toBeHidden();
});
