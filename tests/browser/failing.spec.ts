/** What cannot be had: a search that does not load, a device that keeps nothing, no sound. */
import { expect, keptPageTest as test } from './page';

const WORKER = '**/*answers.worker*';

test('a search that cannot be loaded says a sentence, and the next question starts it anew', async ({
  page,
  gripwright,
  trouble,
}) => {
  trouble.allow(/answers\.worker/);
  await page.route(WORKER, (route) => route.abort());
  await gripwright.open();
  await expect(page.getByRole('alert')).toHaveText(
    /The search stopped: .*\. It starts anew with the next question\./,
  );
  // the table answers by itself
  await gripwright.bar.press('ArrowRight');
  await gripwright.expectFret(9);

  await page.unroute(WORKER);
  await gripwright.ask('Am7');
  await expect(gripwright.heading).toContainText(/^Am7 /);
  await expect(gripwright.rows.first()).toBeVisible();
  await expect(page.getByRole('alert')).toHaveCount(0);
});

test('a search that fails later keeps the rows that were found', async ({ page, gripwright }) => {
  await page.addInitScript(() => {
    const { Worker } = window;
    const started: Worker[] = [];
    Object.assign(window, { started });
    window.Worker = class extends Worker {
      constructor(...given: ConstructorParameters<typeof Worker>) {
        super(...given);
        started.push(this);
      }
    };
  });
  await gripwright.open();
  await expect(gripwright.rows.first()).toBeVisible();
  // one that fails while nobody waits for it is not missed
  await page.evaluate(() => {
    const { started } = window as unknown as { started: Worker[] };
    started.at(-1)?.dispatchEvent(new ErrorEvent('error', { message: 'not now' }));
  });
  await gripwright.ask('D');
  await expect(gripwright.heading).toContainText(/^D /);
  await expect(page.getByRole('alert')).toHaveCount(0);

  await page.evaluate(() => {
    const { started } = window as unknown as { started: Worker[] };
    for (const worker of started)
      worker.postMessage = () => {
        setTimeout(() =>
          worker.dispatchEvent(new ErrorEvent('error', { message: 'out of memory' })),
        );
      };
  });
  await gripwright.ask('F');
  await expect(page.getByRole('alert')).toContainText('out of memory');
  await expect(gripwright.heading).toContainText(/^D /);
  await gripwright.ask('G');
  await expect(gripwright.heading).toContainText(/^G /);
  await expect(page.getByRole('alert')).toHaveCount(0);
});

test('a device that keeps nothing does no harm', async ({ page, gripwright }) => {
  await page.addInitScript(() => {
    Object.defineProperty(window, 'localStorage', {
      get: () => {
        throw new DOMException('Access is denied for this document.', 'SecurityError');
      },
    });
  });
  await gripwright.open();
  await gripwright.chooseTheme('Dark');
  await expect(page.locator('html')).toHaveAttribute('data-theme', 'dark');
  await gripwright.ask('G');
  await expect(gripwright.heading).toContainText(/^G /);
});

test('sound that cannot be fetched says so, and everything else goes on', async ({
  page,
  gripwright,
  trouble,
}) => {
  trouble.allow(/ERR_FAILED.*\.js/);
  await gripwright.open();
  await page.waitForLoadState('networkidle');
  await page.route('**/*.js', (route) => route.abort());
  await gripwright.play.click();
  await expect(page.getByRole('alert')).toHaveText(/There is no sound here: .+\./);
  await expect(gripwright.play).toBeEnabled();
  await gripwright.ask('G');
  await expect(gripwright.heading).toContainText(/^G /);
});

test('the way to the arrangement that cannot be fetched says so', async ({
  page,
  gripwright,
  trouble,
}) => {
  trouble.allow(/ERR_FAILED.*\.js/);
  await gripwright.open();
  await expect(gripwright.rows.first()).toBeVisible();
  await page.waitForLoadState('networkidle');
  await page.route('**/*.js', (route) => route.abort());
  await page.getByRole('button', { name: 'Add to the piece' }).click();
  await expect(page.getByRole('alert')).toHaveText(
    '⚠ It could not be loaded. Reload the page to try again.',
  );
});

/** What a browser without a sound device was seen to do, and what one does whose device goes silent. */
const SILENT = {
  'no context ever runs': () => {
    const never = () => new Promise<never>(() => undefined);
    AudioContext.prototype.resume = never;
    AudioWorklet.prototype.addModule = never;
    Object.defineProperty(BaseAudioContext.prototype, 'state', { get: () => 'suspended' });
  },
  'the clock stands still': () => {
    Object.defineProperty(BaseAudioContext.prototype, 'currentTime', { get: () => 0 });
  },
};

for (const [what, silence] of Object.entries(SILENT))
  test(`where no sound device answers, Play says what to do: ${what}`, async ({
    page,
    gripwright,
  }) => {
    const sentence = /no sound device answers.*Play once more\.$/;
    await page.addInitScript(silence);
    await gripwright.open();
    await gripwright.play.click();
    await expect(page.getByRole('alert')).toHaveText(sentence);
    await expect(gripwright.play).toBeEnabled();
    // a piece is played by the same voice
    await page.goto('/arrange?chords=C+%7C+F');
    const play = page.getByRole('button', { name: 'Play', exact: true });
    await play.click();
    await expect(page.getByRole('alert')).toHaveText(sentence);
    await expect(play).toBeVisible();
  });
