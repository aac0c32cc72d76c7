/** The program on the device: it works with the network cut, and a newer version is offered, not forced. */
import { randomFrom } from '../random';
import { SEED } from '../seed';
import { expect, Gripwright, keptPageTest } from './page';
import { PLACES } from './places';
import { ShelfPage } from './shelfPage';
import { expectWorkingAlone, siteTest as test, visit } from './site';

test.describe.configure({ timeout: 90_000 });

test.describe('a site of its own', () => {
  test('after the first visit it starts, answers and keeps with the network cut', async ({
    page,
    site,
    trouble,
  }) => {
    // a quarter of the places by the seed; a folder of a larger site and the long walk have all
    const first = Math.floor(randomFrom(SEED)() * 4);
    const some = PLACES.filter((_, at) => at % 4 === first);
    await expectWorkingAlone({ page, site, trouble }, some);
  });
});

test.describe('a folder of a larger site', () => {
  test.use({ under: 'tools/gripwright/' });
  test('after the first visit it starts, answers and keeps with the network cut', async ({
    page,
    site,
    trouble,
  }) => {
    await expectWorkingAlone({ page, site, trouble }, PLACES);
    // another program shares a tune with this one, as the manifest says
    const shared = await page.evaluate(async () => {
      const manifest = new URL('../../manifest.webmanifest', location.href);
      const { share_target } = (await (await fetch(manifest)).json()) as {
        share_target: { action: string; params: { files: { name: string }[] } };
      };
      const form = new FormData();
      const song = '{title: Porch light}\n[G]Low [C]sun on the [D7]boards [G]now';
      form.append(share_target.params.files[0]?.name ?? '', new File([song], 'porch light.cho'));
      const action = new URL(share_target.action, manifest);
      // where that leads is answered by what is kept, which does not say its question
      await fetch(action, { method: 'POST', body: form });
      return action.href;
    });
    await page.goto(`${shared}?from=device`);
    await expect(page.getByRole('heading', { level: 1 })).toHaveText('Porch light');
    await expect(page.getByText('A piece, from a file.')).toBeVisible();
  });
});

test('a newer version is offered, waits, and is taken with what is kept', async ({
  page,
  site,
}) => {
  await visit(page);
  await page.goto('bench/setups/');
  const shelf = new ShelfPage(page);
  await shelf.keep();
  await page.goto('?chord=Am7');
  site.renew('newer');
  await page.reload();
  const offer = page.getByText('A new version of Gripwright is ready.');
  await expect(offer).toBeVisible({ timeout: 30_000 });
  // the work goes on in the version that is open, through any number of pages
  await expect(page.locator('html')).not.toHaveAttribute('data-version', 'newer');
  await page.getByRole('button', { name: 'Later' }).click();
  await expect(offer).toBeHidden();
  await expect(new Gripwright(page).heading).toContainText('Am7');

  await page.reload();
  await page.getByRole('button', { name: 'Use it now' }).click();
  await expect(page.locator('html')).toHaveAttribute('data-version', 'newer');
  await expect(page).toHaveURL(/chord=Am7/);
  await expect(new Gripwright(page).heading).toContainText('Am7');
  await page.goto('bench/setups/');
  await expect(shelf.names.first()).toHaveText('E9, three pedals and five levers');
});

keptPageTest(
  'it can be installed: a manifest with a name, a start and icons that are there',
  async ({ page }) => {
    await page.goto('');
    const link = page.locator('link[rel="manifest"]');
    const address = (): Promise<string> => link.evaluate((each: HTMLLinkElement) => each.href);
    const manifestAddress = await address();
    const response = await page.request.get(manifestAddress);
    const manifest = (await response.json()) as {
      icons: { src: string; sizes: string; purpose?: string }[];
    };
    // what browsers ask for before they offer to install (W3C Web Application Manifest)
    expect(manifest).toMatchObject({ name: 'Gripwright', start_url: './', display: 'standalone' });
    const { icons } = manifest;
    expect(icons.map(({ sizes }) => sizes)).toEqual(expect.arrayContaining(['192x192', '512x512']));
    expect(icons.some(({ purpose }) => purpose === 'maskable')).toBe(true);
    for (const { src, sizes } of icons) {
      const icon = await page.request.get(src);
      expect(icon.status(), src).toBe(200);
      if (sizes === 'any') continue;
      // PNG: width and height stand at bytes 16 and 20
      const bytes = await icon.body();
      expect(`${bytes.readUInt32BE(16)}x${bytes.readUInt32BE(20)}`).toBe(sizes);
    }

    // and it is still found from another place of the page
    await new Gripwright(page).settle();
    await page.getByRole('link', { name: 'Bench' }).click();
    await expect(page).toHaveURL(/bench/);
    expect(await address()).toBe(manifestAddress);
  },
);
