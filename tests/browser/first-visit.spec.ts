/** The first visit: it answers before anything is set, and can be heard at the first press. */
import { expect, keptPageTest, test } from './page';

// each is a walk of many steps in one page
test.describe.configure({ timeout: 120_000 });

test.describe('the first visit', () => {
  test('shows an E9 neck with a C chord found, says what was searched, and falls silent', async ({
    page,
    gripwright,
  }) => {
    await test.step('shows an E9 neck with a C chord already found', async () => {
      await gripwright.open();

      await expect(page).toHaveTitle('C · Gripwright');
      await expect(page.getByRole('heading', { level: 1 })).toHaveText('Explore');
      await expect(gripwright.chord).toHaveValue('C');
      await expect(gripwright.setup.locator('option:checked')).toHaveText(/^E9, /);

      // With nothing pressed fret f is the chord E + f (common practice), so C is at fret 8; strings
      // 3, 4, 5 are open G♯4 E4 B3, eight semitones up E5 C5 G4.
      await gripwright.expectFret(8);
      await gripwright.expectPicked(3, 4, 5);
      await gripwright.expectName('C major');
      await expect(page.getByRole('region', { name: 'Neck' })).toContainText('E5 C5 G4');
      await expect(gripwright.string(3)).toHaveAccessibleName(/sounds third, E 5$/);
      await expect(gripwright.string(4)).toHaveAccessibleName(/sounds root, C 5$/);
      await expect(gripwright.string(5)).toHaveAccessibleName(/sounds fifth, G 4$/);
      await expect(gripwright.rows.first()).toHaveAccessibleName(
        /^Fret 8, nothing engaged, strings 3 4 5/,
      );
      await expect(gripwright.rows.first()).toHaveAttribute('aria-current', 'true');
    });

    await test.step('says how much ground the search covered', async () => {
      // Foot: nothing, A, B, C, A+B, B+C. Left knee: nothing, L, V, R. Right knee: nothing, RKL, RKR
      // half and full. 6 · 4 · 4 = 96. Grips of 3 or 4 out of ten strings: 120 + 210 = 330. Frets 0
      // to 24: 25. 96 · 330 · 25 = 792 000.
      const covered = page.getByText(/^Searched all of/);
      await expect(covered).toContainText('792,000 candidates');
      await expect(covered).toContainText('96 combinations');
      // what was found is told first, and alone
      const told = page.getByRole('status').filter({ hasText: 'voicings' });
      await expect(told).toHaveText(/^[\d,]+\s+voicings in \d+\s+positions\.$/);
    });

    await test.step('falls silent by itself, and on Escape', async () => {
      await gripwright.play.click();
      await expect(gripwright.stop).toBeVisible();
      await page.keyboard.press('Escape');
      await expect(gripwright.play).toBeVisible();
      await gripwright.play.click();
      await expect(gripwright.stop).toBeVisible();
      // a grip rings for a few seconds and is damped
      await expect(gripwright.play).toBeVisible({ timeout: 15_000 });
    });

    await test.step('leads with the three positions that everyone learns first', async () => {
      await gripwright.open('?chord=C&frets=0-11');
      // Common practice: nothing at f, A+LKL at f + 3, A+B at f + 7; for C: 8, 11 and 15 − 12 = 3.
      const firstThree = (await gripwright.rowNames()).slice(0, 3).map((name) => {
        return name.split(', strings')[0];
      });
      expect(firstThree.sort()).toEqual([
        'Fret 11, A and LKL',
        'Fret 3, A and B',
        'Fret 8, nothing engaged',
      ]);
    });
  });

  test('plays at the first press, stops at the second, and fetches the sound only then', async ({
    page,
    gripwright,
  }) => {
    // the parts that bring Web Audio with them, by what they hold rather than by their names
    const sound: string[] = [];
    const read: Promise<void>[] = [];
    page.on('response', (response) => {
      if (!response.url().endsWith('.js')) return;
      const look = async (): Promise<void> => {
        if (/createGain|AudioContext/.test(await response.text())) sound.push(response.url());
      };
      read.push(look());
    });
    await gripwright.open();
    await page.waitForLoadState('networkidle');
    await Promise.all(read);
    expect(sound, 'fetched before anything was to be heard').toEqual([]);

    const size = await gripwright.play.boundingBox();
    expect(size?.height).toBeGreaterThanOrEqual(44);
    expect(size?.width).toBeGreaterThanOrEqual(88);

    await gripwright.play.click();
    await expect(gripwright.stop).toBeVisible();
    await expect(gripwright.play).toBeHidden();
    await Promise.all(read);
    expect(sound, 'fetched for the first press').not.toEqual([]);
    await expect(page.getByRole('alert')).toHaveCount(0);

    await gripwright.stop.click();
    await expect(gripwright.play).toBeVisible();
  });

  test('the font of the first words is asked for with the page, and no other', async ({
    request,
  }) => {
    const html = await (await request.get('')).text();
    const fonts = [...html.matchAll(/<link[^>]*href="([^"]*)"[^>]*as="font"/g)];
    expect(fonts).toHaveLength(1);
    const font = await request.get(fonts[0]?.[1] ?? 'none');
    expect(font.ok()).toBe(true);
  });

  keptPageTest(
    'offers three things to try: one tap does each, one undoes it, and used it is gone for good',
    async ({ page, gripwright }) => {
      await gripwright.open();
      const tries = page.getByRole('group', { name: 'Things to try' }).getByRole('button');
      await expect(tries).toHaveText(['Press A and B', 'Find Am7', 'See the atlas']);

      await tries.first().click();
      // A+B is A + f, so at fret 8 it is F, and under it string 5, B + 2 + 8 (common practice)
      await gripwright.expectName('F major over A');
      await expect(tries).toHaveText(['Undo: Press A and B', 'Find Am7', 'See the atlas']);
      await tries.first().click();
      await gripwright.expectName('C major');
      await expect(gripwright.control('A')).toHaveAttribute('aria-pressed', 'false');
      await expect(tries).toHaveText(['Find Am7', 'See the atlas']);

      await tries.first().click();
      await expect(gripwright.heading).toContainText(/^Am7 /);
      await tries.first().click();
      await expect(gripwright.heading).toContainText(/^C /);
      await page.reload();
      await expect(tries).toHaveText(['See the atlas']);
      await tries.first().click();
      await expect(page).toHaveURL(/view=atlas/);
      await tries.first().click();
      await expect(gripwright.rows.first()).toBeVisible();
      await page.reload();
      await expect(gripwright.rows.first()).toBeVisible();
      await expect(tries).toHaveCount(0);
    },
  );

  keptPageTest(
    'keeps the screen awake from the first touch, and lets it sleep when the place is left',
    async ({ page, gripwright }) => {
      await page.addInitScript(() => {
        const told: string[] = [];
        Object.assign(globalThis, { told });
        const lock = {
          released: false,
          release: () => {
            told.push('released');
            return Promise.resolve();
          },
        };
        Object.defineProperty(navigator, 'wakeLock', {
          value: {
            request: (type: string) => {
              told.push(type);
              return Promise.resolve(lock);
            },
          },
        });
      });
      const told = (): Promise<string[]> =>
        page.evaluate(() => Reflect.get(globalThis, 'told') as string[]);
      await gripwright.open();
      expect(await told()).toEqual([]);
      await gripwright.control('A').click();
      await expect.poll(told).toEqual(['screen']);
      // what goes on does not ask again
      await gripwright.play.click();
      await expect(gripwright.stop).toBeVisible();
      expect(await told()).toEqual(['screen']);
      await page.getByRole('link', { name: 'Bench' }).click();
      await expect.poll(told).toEqual(['screen', 'released']);
    },
  );
});
