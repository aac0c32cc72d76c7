/** The program on the device: it works with the network cut, and a newer version is offered, not forced. */
import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import type { Server } from 'node:http';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type Page } from '@playwright/test';
import { inRoot } from '../../scripts/lib/root.mjs';
import { serve } from '../../scripts/lib/serve.mjs';
import { expect, Gripwright, test as base } from './page';
import { PLACES } from './places';
import { ShelfPage } from './shelfPage';

/** A site of the test's own, which can go away and come back as another version. */
class Site {
  readonly folder = mkdtempSync(join(tmpdir(), 'gripwright-site-'));
  /** The program stands under this path of the site, which is empty or ends in a slash. */
  readonly under: string;
  #server: Server | undefined;
  #port = 0;

  constructor(under: string) {
    this.under = under;
    cpSync(inRoot('build'), join(this.folder, under), { recursive: true });
  }
  get address(): string {
    return `http://127.0.0.1:${this.#port}/${this.under}`;
  }
  async up(): Promise<void> {
    this.#server = await serve(this.folder, this.#port);
    const at = this.#server.address();
    this.#port = typeof at === 'object' && at !== null ? at.port : this.#port;
  }
  async cut(): Promise<void> {
    const server = this.#server;
    if (server === undefined) return;
    await new Promise<void>((done) => {
      server.close(() => done());
      server.closeAllConnections();
    });
    this.#server = undefined;
  }
  /** The same program under another version, told by the title of its first page. */
  renew(title: string): void {
    const change = (name: string, from: RegExp, to: string): void => {
      const path = join(this.folder, this.under, name);
      const text = readFileSync(path, 'utf8');
      const changed = text.replace(from, to);
      if (changed === text) throw new Error(`nothing to change in ${name}`);
      writeFileSync(path, changed);
    };
    change('service-worker.js', /\d+\.\d+\.\d+-[0-9a-f]{12}/u, `9.9.9-${'0'.repeat(12)}`);
    change('index.html', /<html lang="en">/u, `<html lang="en" data-version="${title}">`);
  }
}

const test = base.extend<{ site: Site; under: string }>({
  under: ['', { option: true }],
  serviceWorkers: 'allow',
  baseURL: async ({ site }, use) => {
    await use(site.address);
  },
  site: async ({ under }, use) => {
    const site = new Site(under);
    await site.up();
    await use(site);
    await site.cut();
    rmSync(site.folder, { recursive: true });
  },
});
test.describe.configure({ timeout: 90_000 });

/** The first visit, until the whole program is kept. */
async function visit(page: Page): Promise<void> {
  await page.goto('');
  await expect
    .poll(
      () =>
        page.evaluate(async () => {
          const registration = await navigator.serviceWorker.getRegistration();
          return registration?.active?.state;
        }),
      { timeout: 30_000 },
    )
    .toBe('activated');
}

for (const under of ['', 'tools/gripwright/'])
  test.describe(under === '' ? 'a site of its own' : 'a folder of a larger site', () => {
    test.use({ under });
    test('after the first visit it starts, answers and keeps with the network cut', async ({
      page,
      site,
      trouble,
    }) => {
      await visit(page);
      await site.cut();
      // what the browser itself says of the server that is gone
      trouble.allow(
        /ERR_CONNECTION_REFUSED|Failed to load resource|service-worker|fetching the script/,
      );
      const gripwright = new Gripwright(page);
      await page.goto('?chord=Am7');
      await expect(gripwright.heading).toContainText('Am7');
      await gripwright.ask('C#m7');
      await expect(gripwright.heading).toContainText('C♯m7');
      for (const place of PLACES) {
        await page.goto(place);
        await expect(page.getByRole('navigation', { name: 'Places' })).toBeVisible();
        await expect(page.getByRole('heading', { level: 1 })).toHaveCount(1);
      }
      // a way that leads nowhere leads home
      await page.goto('no-such-place/');
      await expect(page.getByRole('heading', { level: 1 })).toHaveText('Explore');

      const shelf = new ShelfPage(page);
      await page.goto('bench/setups/');
      await shelf.keep();
      await page.reload();
      await expect(shelf.names.first()).toHaveText('E9, three pedals and five levers');

      // one of the two is enough, and it is the one whose addresses are longer
      if (under === '') return;
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

test('it can be installed: a manifest with a name, a start and icons that are there', async ({
  page,
  site,
}) => {
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
    const icon = await page.request.get(`${site.address}${src}`);
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
});
