/**
 * From the chart of an instrument to tomorrow's cards, on a phone and at a desk: pasted, kept, its first positions
 * practised by playing, without a network from there on, with a device that is full, a second tab, and a tab that is
 * killed on the way.
 */
import { mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { hearingFile } from '../fakeMicrophone';
import { wavBytes } from '../../../src/lib/formats/wav';
import { roomOf } from '../fullDevice';
import { kill } from '../killing';
import { expect as impatient, test } from '../page';

// a course is made on the way; a busy machine takes its time
const expect = impatient.configure({ timeout: 90_000 });

const CHART = `The old board (as it was left)
tuned in the shed, don't touch

    nr   open     floor A    floor B   floor C   | LKL   LKR  | RKL    RKR
    1    F#4                                                  | +1
    2.   Eb4                                                  | +1     -2 (half: -1)
    3    G#4                 +1
    4    E4                            +2        | +1     -1
    5    B3       +2                   +2
    6    Ab3                 +1                               | -2
    7    F#3
    8    E3                                      | +1     -1
    9    D3                                                            -1
    10   B2       +2
`;

const RATE = 48_000;
// at fret 3 strings 3, 4 and 5 sound B4, G4 and D4 (MIDI 71, 67, 62): ten partials each, fading; heard over and over
const grip = Float32Array.from({ length: 3 * RATE }, (_, i) => {
  const t = i / RATE;
  let sum = 0;
  for (const midi of [71, 67, 62]) {
    const hz = 440 * 2 ** ((midi - 69) / 12);
    for (let n = 1; n <= 10; n++)
      sum += (0.12 / n) * Math.exp(-t * (1.5 + 0.3 * n)) * Math.sin(2 * Math.PI * hz * n * t);
  }
  return sum;
});
const file = join(mkdtempSync(join(tmpdir(), 'walk-')), 'grip.wav');
writeFileSync(file, wavBytes([grip], RATE));

test.use({
  serviceWorkers: 'allow',
  launchOptions: hearingFile(file),
});

const SIZES = [
  ['a phone', { viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true }],
  ['a desk', { viewport: { width: 1440, height: 900 } }],
] as const;

for (const [size, options] of SIZES)
  test.describe(`at ${size}`, () => {
    test.setTimeout(600_000);
    test.use(options);
    test('a chart is pasted, its first positions are practised by playing, and tomorrow has its cards', async ({
      page,
      context,
      trouble,
    }) => {
      // what the browser itself says of a full disk, and of a network that is not there
      trouble.allow(/quota|ERR_INTERNET_DISCONNECTED|service-worker|fetching the script/i);
      // the whole program is on the device once its service worker is
      await page.goto('');
      await page.evaluate(async () => void (await navigator.serviceWorker.ready));
      const button = (name: string, on = page) => on.getByRole('button', { name, exact: true });
      const days = page.getByRole('figure', { name: /of the last two weeks/ });

      await test.step('the way in stands on the Bench, and the chart is read as it is', async () => {
        await page.goto('bench/');
        await page.getByRole('link', { name: 'Read the chart of your own' }).click();
        await page.getByLabel('The chart', { exact: true }).fill(CHART);
        await expect(
          page.getByText('10 strings, 7 controls, nothing left to settle.'),
        ).toBeVisible();
        await button('Keep this setup').click();
        await expect(page.getByRole('heading', { level: 1 })).toHaveText(
          'The old board (as it was left)',
        );
      });

      await test.step('its first position is played to the microphone', async () => {
        if (size === 'a phone') await button('Places, now Bench').click();
        await page.getByRole('link', { name: 'Practice' }).click();
        await expect(page.getByText('learning 1 to 10')).toBeVisible();
        await context.setOffline(true);
        await button('Begin the first round').click();
        await expect(page.getByRole('heading', { name: /^Find G with B on top/ })).toBeVisible();
        await button('Listen').click();
        await expect(page.getByText('1 of 1 right')).toBeVisible({ timeout: 20_000 });
        await button('Listening').click();
        await button('End').click();
        await expect(days).toHaveAccessibleName(/: 1 answer, 1 of them right/);
      });

      await test.step('a device without room says so, and takes the answer once there is some', async () => {
        const { fill, makeRoom } = await roomOf(page);
        await page.reload();
        await button('Begin today’s round').click();
        await fill();
        await button('Show me').click();
        const alert = page.getByRole('alert');
        await expect(alert).toContainText('the space that this browser gives is full');
        await makeRoom();
        await button('Try again').click();
        await expect(alert).toHaveCount(0);
      });

      await test.step('a second tab is killed in the middle, and nothing that was answered is lost', async () => {
        const other = await context.newPage();
        await other.goto(page.url());
        await button('Begin today’s round', other).click();
        await button('Show me', other).click();
        await button('Next', other).click();
        await expect(button('Show me', other)).toBeVisible();
        await kill(other);
        await page.bringToFront();
        await button('End').click();
        await page.reload();
        await expect(days).toHaveAccessibleName(/: 3 answers, 1 of them right/);
      });

      await test.step('tomorrow asks what was missed', async () => {
        await page.clock.install({ time: new Date(Date.now() + 26 * 3_600_000) });
        await page.reload();
        await expect(page.getByText(/^(One card is|[23] cards are) due/)).toBeVisible();
        await button('Begin today’s round').click();
        await expect(button('Show me')).toBeVisible();
      });
    });
  });
