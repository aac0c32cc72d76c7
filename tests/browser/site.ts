/** The program on a site of a test's own, which can go away: what it does on the device with the network cut. */
import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import type { Server } from 'node:http';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type Page } from '@playwright/test';
import { inRoot } from '../../scripts/lib/root.mjs';
import { serve } from '../../scripts/lib/serve.mjs';
import { expect, Gripwright, test as base, type Trouble } from './page';
import { ShelfPage } from './shelfPage';

/** A site of the test's own, which can go away and come back as another version. */
export class Site {
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

export const siteTest = base.extend<{ site: Site; under: string }>({
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
/** The first visit, until the whole program is kept. */
export async function visit(page: Page): Promise<void> {
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

/** With the network cut after the first visit: it starts, answers, has these places, and keeps. */
export async function expectWorkingAlone(
  { page, site, trouble }: { page: Page; site: Site; trouble: Trouble },
  places: readonly string[],
): Promise<void> {
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
  for (const place of places) {
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
}
