/**
 * From a tune to a sheet on the stand and a phone: opened, arranged with chords under it, a phrase changed, played
 * slower with the band, without a network from there on, kept through trouble, printed with its code, and opened where
 * the code leads.
 */
import { readFile } from 'node:fs/promises';
import { inRoot } from '../../../scripts/lib/root.mjs';
import { roomOf } from '../fullDevice';
import { kill } from '../killing';
import { heard, listen } from '../outlet';
import { expect as impatient, test } from '../page';

// whole arrangements are worked out on the way; a busy machine takes its time
const expect = impatient.configure({ timeout: 90_000 });

const TUNE = `X:1
T:The ferry landing
M:3/4
L:1/8
Q:1/4=112
K:D
|: A2 | "D"d3 e f2 | "G"g2 f2 e2 | "A7"c3 d e2 | "D"d4 :|
|: f2 | "D"a3 f d2 | "Em"e2 d2 B2 | "A7"A2 c2 e2 | "D"d4 :|
`;

test.use({ serviceWorkers: 'allow' });

const SIZES = [['a desk', { viewport: { width: 1440, height: 900 } }]] as const;

for (const [size, options] of SIZES)
  test.describe(`at ${size}`, () => {
    test.setTimeout(600_000);
    test.use(options);
    test('a tune is opened, changed, played, kept through trouble, printed, and opened by its code', async ({
      page,
      context,
      browser,
      trouble,
    }) => {
      // what the browser itself says of a full disk, and of a network that is not there
      trouble.allow(/quota|ERR_INTERNET_DISCONNECTED|service-worker|fetching the script/i);
      const { fill, makeRoom } = await roomOf(page);
      await listen(page);
      // the whole program is on the device once its service worker is
      await page.goto('');
      await page.evaluate(async () => void (await navigator.serviceWorker.ready));
      const title = page.getByRole('textbox', { name: 'Title' });
      const notes = page.locator('[data-note]');

      await test.step('it is opened, and a phrase of it is played in thirds', async () => {
        await page.goto('arrange/');
        await expect(page.getByRole('region', { name: 'Staff' })).toBeVisible();
        await page
          .getByLabel('Open a file…')
          .setInputFiles({ name: 'ferry.abc', mimeType: 'text/plain', buffer: Buffer.from(TUNE) });
        await expect(title).toHaveValue('The ferry landing');
        await page
          .getByRole('combobox', { name: 'Texture of all measures' })
          .selectOption('chord-melody');
        await page.getByRole('button', { name: 'Choose measure 3' }).first().click();
        await page
          .getByRole('button', { name: 'Choose measure 5' })
          .first()
          .click({ modifiers: ['Shift'] });
        await page
          .getByRole('combobox', { name: 'Texture of measures 3 to 5' })
          .selectOption('thirds');
        await expect(page).toHaveURL(/measures=3-5%3Dthirds/);
        // eleven notes in each of two parts, played twice
        await expect(notes).toHaveCount(44);
        await expect(notes.nth(4).locator('.strings')).toHaveText(/^\d+\D* \d+\D*$/);
      });

      await test.step('just the phrase is played, slower, with the band', async () => {
        await context.setOffline(true);
        await expect(page.getByRole('spinbutton', { name: 'From measure' })).toHaveValue('3');
        await expect(page.getByRole('spinbutton', { name: 'to measure' })).toHaveValue('5');
        await page.getByRole('checkbox', { name: 'Count in' }).uncheck();
        await page.getByRole('checkbox', { name: 'Loop' }).check();
        const tempo = page
          .getByRole('group', { name: 'Play it in time' })
          .getByRole('spinbutton', { name: 'Tempo' });
        await tempo.fill('70');
        await tempo.press('Enter');
        await page.getByRole('button', { name: 'Band', exact: true }).click();
        await page.getByRole('combobox', { name: 'Feel' }).selectOption({ label: 'Waltz' });
        await page.getByRole('button', { name: 'Play', exact: true }).click();
        await expect.poll(async () => (await heard(page)).loudness).toBeGreaterThan(0.005);
        // the first note of measure 3, and those behind it
        const now = page.locator('[data-note].heard');
        await expect(now).toHaveAttribute('data-note', /^([4-9]|10)$/);
        await page.getByRole('button', { name: 'Stop', exact: true }).click();
        await page.getByRole('button', { name: 'Band', exact: true }).click();
      });

      await test.step('kept: a device without room, another tab, and a tab that is killed lose nothing', async () => {
        await page.getByRole('button', { name: 'Keep on this device' }).click();
        await expect(page.getByText('Kept on this device')).toBeVisible();
        await page.keyboard.press('Escape');
        await fill();
        await title.fill('The ferry');
        await title.press('Enter');
        const alert = page.getByRole('alert');
        await expect(alert).toContainText('the space that this browser gives is full');
        await makeRoom();
        await page.getByRole('button', { name: 'Try again' }).click();
        await expect(alert).toHaveCount(0);

        const other = await context.newPage();
        await other.goto(page.url());
        const theirs = other.getByRole('textbox', { name: 'Title' });
        await expect(theirs).toHaveValue('The ferry');
        await theirs.fill('The ferry at night');
        await theirs.press('Enter');
        await expect(title).toHaveValue('The ferry at night');
        await kill(other);
        await page.bringToFront();
        await page.reload();
        await expect(title).toHaveValue('The ferry at night');
        await expect(notes).toHaveCount(44);
      });

      const address =
        await test.step('its sheet carries a code that another reader reads', async () => {
          await expect(page.getByRole('region', { name: 'Staff' })).toBeVisible();
          const [download] = await Promise.all([
            page.waitForEvent('download'),
            page.getByRole('button', { name: 'Save SVG' }).first().click(),
          ]);
          const svg = await readFile(await download.path(), 'utf8');
          const sheet = await context.newPage();
          await sheet.goto('about:blank');
          await sheet.addScriptTag({ path: inRoot('node_modules/jsqr/dist/jsQR.js') });
          const read = await sheet.evaluate(async (text) => {
            const image = new Image();
            image.src = URL.createObjectURL(new Blob([text], { type: 'image/svg+xml' }));
            await image.decode();
            // as a camera has it, some eight dots a millimetre
            const canvas = new OffscreenCanvas(
              1680,
              Math.round((1680 * image.height) / image.width),
            );
            const paper = canvas.getContext('2d');
            if (paper === null) return undefined;
            paper.fillStyle = 'white';
            paper.fillRect(0, 0, canvas.width, canvas.height);
            paper.drawImage(image, 0, 0, canvas.width, canvas.height);
            const { data } = paper.getImageData(0, 0, canvas.width, canvas.height);
            const { jsQR } = globalThis as unknown as {
              jsQR: (
                dots: Uint8ClampedArray,
                width: number,
                height: number,
              ) => { data: string } | null;
            };
            return jsQR(data, canvas.width, canvas.height)?.data;
          }, svg);
          await sheet.close();
          return read ?? 'no code';
        });

      await test.step('on a phone that has never been here it opens the piece as it was', async () => {
        const phone = await browser.newContext({
          viewport: { width: 390, height: 844 },
          hasTouch: true,
          isMobile: true,
          serviceWorkers: 'block',
        });
        const there = await phone.newPage();
        await there.goto(address);
        await expect(there.getByText('A piece, from a link.')).toBeVisible();
        await there.getByRole('link', { name: 'Try it without keeping' }).tap();
        await expect(there.getByRole('textbox', { name: 'Title' })).toHaveValue(
          'The ferry at night',
        );
        await expect(there).toHaveURL(/texture=chord-melody.*measures=3-5%3Dthirds/);
        await expect(there.locator('[data-note]')).toHaveCount(44);
        await phone.close();
      });
    });
  });
