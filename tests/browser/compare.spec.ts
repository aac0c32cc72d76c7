/**
 * Compare: two setups weighed, by mouse, touch and keyboard: the chart, the neck, files, the history.
 * What is weighed, listed and told is `tests/unit/ui/compareState.test.ts`.
 */
import { readFileSync } from 'node:fs';
import { type Page } from '@playwright/test';
import { expect as impatient, keptPageTest as test, test as freshTest } from './page';

// two whole setups are searched before anything is seen; a busy machine takes its time
const expect = impatient.configure({ timeout: 30_000 });
test.describe.configure({ timeout: 240_000 });

const open = async (page: Page, query = ''): Promise<void> => {
  await page.goto(`compare/${query}`);
  await expect(chart(page)).toBeVisible();
};
const chart = (page: Page) => page.getByRole('table', { name: /^By chord type/ });
const row = (page: Page, type: string) =>
  chart(page)
    .getByRole('row')
    .filter({ has: page.getByRole('button', { name: `${type}: show its sounds alone` }) });
const heading = (page: Page) => page.getByRole('region', { name: /has more .* chord type|level/ });
/** Opens what the two are compared by. */
const unfold = (page: Page): Promise<void> =>
  page.locator('summary', { hasText: 'Compared' }).click();
const sounds = (page: Page) => page.getByRole('region', { name: /^What tells them apart/ });

test('two setups are weighed by several measures, others chosen, and Back leads to those before', async ({
  page,
}) => {
  await open(page);

  await test.step('the first visit says who is stronger where', async () => {
    await expect(page.getByRole('link', { name: 'Compare' })).toHaveAttribute(
      'aria-current',
      'page',
    );
    await expect(heading(page)).toBeVisible();
    await expect(page.getByRole('heading', { level: 2 }).first()).toHaveText(
      /Universal twelve has more voicings in \d+ of 17 chord types\./,
    );
    // the chart's numbers are text
    await expect(row(page, 'major')).toContainText(/E9: [\d,]+.*Universal twelve: [\d,]+/s);
    await expect(chart(page).getByRole('row')).toHaveCount(18);
  });

  await test.step('a key that cannot be read is told, and the answer stays', async () => {
    await unfold(page);
    const key = page.getByRole('textbox', { name: 'Key of the pockets' });
    await key.fill('H');
    await key.press('Enter');
    await expect(page.getByText('Key: found “H”')).toBeVisible();
    await expect(chart(page)).toBeVisible();
    await expect(key).toHaveAttribute('aria-invalid', 'true');
  });

  await test.step('other setups, a swap, and Back', async () => {
    const key = page.getByRole('textbox', { name: 'Key of the pockets' });
    await key.fill('');
    await key.press('Enter');
    await page.getByRole('combobox', { name: 'Second setup' }).selectOption('c6');
    await expect(row(page, 'major')).toContainText('C6: ');
    await expect(page).toHaveURL(/\?with=c6$/);
    await page.getByRole('button', { name: 'Swap the two setups' }).click();
    await expect(page).toHaveURL(/setup=c6&with=e9/);
    const first = page.getByRole('combobox', { name: 'Setup', exact: true });
    await expect(first).toHaveValue('c6');
    await page.goBack();
    await expect(first).toHaveValue('e9');
    await expect(page.getByRole('combobox', { name: 'Second setup' })).toHaveValue('c6');
    await expect(row(page, 'major')).toContainText(/E9: .*C6: /s);
  });

  await test.step('another measure and order, kept in the address', async () => {
    await page.getByRole('combobox', { name: 'Bars show' }).selectOption('least');
    await page.getByRole('combobox', { name: 'Sort by' }).selectOption('use');
    await expect(page.getByText('Shorter bars are better.')).toBeVisible();
    await expect(chart(page).getByRole('row').nth(1)).toContainText('major');
    await expect(page).toHaveURL(/by=least&order=use/);
    await page.reload();
    await unfold(page);
    await expect(page.getByRole('combobox', { name: 'Bars show' })).toHaveValue('least');
  });

  await test.step('a setup against itself is level in everything', async () => {
    await open(page, '?with=e9');
    await expect(page.getByRole('heading', { level: 2 }).first()).toHaveText(
      'They are level in every chord type.',
    );
    await expect(sounds(page)).toContainText('the other can sound too');
  });
});

test('sounds are listed and played, chart and numbers saved, and pockets found along the neck', async ({
  page,
}) => {
  await open(page);

  await test.step('the sounds of one chord type, in each list, more of them, and played', async () => {
    await row(page, 'major seventh').getByRole('button').click();
    await expect(sounds(page)).toContainText('Of chord type maj7 alone.');
    await page.getByRole('radio', { name: /^Easier on E9/ }).check();
    const list = page.getByRole('list', { name: 'Easier on E9' });
    const play = list.getByRole('button', { name: /^(Play|Stop) / });
    await expect(play.first()).toHaveAccessibleName(/^Play .* major seventh, .* on E9 at fret/);
    await expect(list.getByRole('listitem').first()).toContainText(/effort .*effort /s);
    await play.first().click();
    await expect(play.first()).toHaveAccessibleName(/^Stop /);
    await page.keyboard.press('Escape');
    await expect(play.first()).toHaveAccessibleName(/^Play /);
    const shown = await play.count();
    await sounds(page)
      .getByRole('button', { name: / more$/ })
      .click();
    await expect.poll(() => play.count()).toBeGreaterThan(shown);
    await page.getByRole('button', { name: 'All chord types' }).click();
    await expect(sounds(page)).not.toContainText('alone.');
  });

  await test.step('the chart is saved as a picture and the numbers as a table', async () => {
    const picture = page.waitForEvent('download');
    await page.getByRole('button', { name: 'Picture of the chart' }).click();
    await page.getByRole('button', { name: 'Save SVG' }).click();
    const svg = await picture;
    expect(svg.suggestedFilename()).toBe('E9-and-Universal-twelve.svg');
    const drawn = readFileSync(await svg.path(), 'utf8');
    expect(drawn).toMatch(/^<\?xml/);
    for (const label of await chart(page).getByRole('rowheader').allInnerTexts())
      expect(drawn).toContain(`>${label.trim()}</text>`);

    const table = page.waitForEvent('download');
    await page.getByRole('button', { name: 'Save the numbers (CSV)' }).click();
    const csv = readFileSync(await (await table).path(), 'utf8').split('\r\n');
    expect(csv[0]).toMatch(/^chord type,"?voicings, E9/);
    expect(csv.some((line) => line.startsWith('m7b5,'))).toBe(true);
  });

  await test.step('a pocket at a fret: by slider, by the frets that differ, and by a touch on the neck', async () => {
    const slider = page.getByRole('slider', { name: /^Bar at fret/ });
    await slider.press('ArrowRight');
    await expect(slider).toHaveAttribute(
      'aria-valuetext',
      /^Fret 1: E9 \d+, \d+ complete; Universal/,
    );
    // E9 at fret 1: F with nothing pressed
    const pockets = page.getByRole('region', { name: /^Chords of C along the neck/ });
    await expect(pockets.getByText(/^F\s*IV$/)).toBeVisible();
    // the frets that differ are offered; fret 0 is one of them, and needs no word in the address
    const offered = page.getByRole('button', { name: /^Fret [1-9]\d*$/ });
    await offered.first().click();
    await expect(offered.first()).toHaveAttribute('aria-pressed', 'true');
    await expect(page).toHaveURL(/fret=\d+/);
    const board = pockets.locator('svg').last();
    const { x, y, width } = (await board.boundingBox()) ?? { x: 0, y: 0, width: 0 };
    await page.mouse.click(x + width - 23, y + 120);
    await expect(slider).toHaveValue('24');
    await unfold(page);
    await page.getByRole('textbox', { name: 'Key of the pockets' }).fill('Eb');
    await page.getByRole('textbox', { name: 'Key of the pockets' }).press('Enter');
    await expect(page.getByRole('heading', { name: /^Chords of E♭ along the neck/ })).toBeVisible();
  });
});

test('a repertoire of one’s own is written, saved, opened, and refused in sentences', async ({
  page,
}) => {
  await test.step('from a progression, and everyday again', async () => {
    await open(page);
    await unfold(page);
    await page.getByText(/^Repertoire: everyday chord types/).click();
    await page.getByRole('textbox', { name: /^From a progression/ }).fill('C | Am7 | Dm7 | G7');
    await page.getByRole('button', { name: 'Use these chords' }).click();
    await expect(page.getByText('4 chords of 3 types taken.')).toBeVisible();
    await expect(chart(page).getByRole('row')).toHaveCount(4);
    await expect(page).toHaveURL(/repertoire=m7:2,maj:1,7:1/);

    // a chord of another notation is refused, and its type is one press away
    await page.getByRole('textbox', { name: 'Another chord type' }).fill('H13');
    await page.getByRole('button', { name: 'Add', exact: true }).click();
    await page.getByRole('button', { name: '13', exact: true }).click();
    await expect(page.getByText('13 is added.')).toBeVisible();
    await page.getByRole('button', { name: 'Remove 13' }).click();
    await page.getByRole('textbox', { name: 'Another chord type' }).fill('13');
    await page.getByRole('button', { name: 'Add', exact: true }).click();
    await expect(row(page, 'dominant thirteenth')).toBeVisible();
    await page.getByRole('button', { name: 'Remove m7' }).click();
    await expect(chart(page).getByRole('row')).toHaveCount(4);
    await page.getByRole('spinbutton', { name: 'Weight of major' }).fill('8');
    await page.getByRole('spinbutton', { name: 'Weight of major' }).press('Enter');
    await expect(page.getByText('80 %')).toBeVisible();
    await page.getByRole('button', { name: 'Restore everyday types' }).click();
    await expect(chart(page).getByRole('row')).toHaveCount(18);
  });

  await test.step('saved, opened again, and a broken one refused', async () => {
    await open(page, '?repertoire=maj:3,m7b5:1');
    await unfold(page);
    await page.getByText(/^Repertoire: your own, 2 types/).click();
    const saved = page.waitForEvent('download');
    await page.getByRole('button', { name: 'Save as a file' }).click();
    const path = await (await saved).path();
    await page.getByRole('button', { name: 'Restore everyday types' }).click();
    await expect(chart(page).getByRole('row')).toHaveCount(18);
    const file = page.getByLabel('Open a file');
    await file.setInputFiles(path);
    await expect(chart(page).getByRole('row')).toHaveCount(3);
    await file.setInputFiles({
      name: 'broken.json',
      mimeType: 'application/json',
      buffer: Buffer.from('{"format":1,"types":[]}'),
    });
    await expect(
      page.getByText(/The file is no repertoire\. types: found a list of 0/),
    ).toBeVisible();
    await expect(chart(page).getByRole('row')).toHaveCount(3);
  });
});

freshTest(
  'a worker that cannot be loaded says a sentence, and starts anew when asked again',
  async ({ page, trouble }) => {
    trouble.allow(/answers\.worker/);
    await page.route('**/*answers.worker*', (route) => route.abort());
    await page.goto('compare/');
    await expect(page.getByRole('alert')).toHaveText(/stopped: .+\. It starts anew/);
    await page.unroute('**/*answers.worker*');
    await page.getByRole('button', { name: 'Compare again' }).click();
    await expect(chart(page)).toBeVisible();
    await expect(page.getByRole('alert')).toHaveCount(0);
  },
);

test('a setup that is not there is told, and the answer fits every screen', async ({ page }) => {
  await test.step('a setup that is not there', async () => {
    await page.goto('compare/?with=nowhere');
    await expect(page.getByRole('alert')).toContainText('nowhere');
    await page.getByRole('combobox', { name: 'Second setup' }).selectOption('c6');
    await expect(chart(page)).toBeVisible();
    await expect(page.getByRole('alert')).toHaveCount(0);
  });

  await test.step('on a phone every target is at least 44 pixels', async () => {
    await page.setViewportSize({ width: 360, height: 740 });
    await open(page, '?setup=double&with=universal12&list=easierA');
    await unfold(page);
    await page.getByText(/^Repertoire: /).click();
    const small = () =>
      page.evaluate(() =>
        [...document.querySelectorAll('main :is(a, button, input, select, textarea, summary)')]
          .map((element) => element.closest('label:has([type="radio"], [type="file"])') ?? element)
          .filter((element) => element.checkVisibility())
          .map((element) => {
            const { width, height } = element.getBoundingClientRect();
            return { what: element.outerHTML.slice(0, 80), width, height };
          })
          .filter(({ width, height }) => Math.min(width, height) < 43.9),
      );
    await expect.poll(small).toEqual([]);
  });

  for (const width of [360, 820, 1440])
    await test.step(`${width} pixels wide it needs no sideways scrolling of the page`, async () => {
      await page.setViewportSize({ width, height: 800 });
      await expect
        .poll(() =>
          page.evaluate(
            () => document.documentElement.scrollWidth - document.documentElement.clientWidth,
          ),
        )
        .toBeLessThanOrEqual(0);
    });
});
