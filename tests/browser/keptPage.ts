/** One page for many tests, in turn: opened once, and empty before each. */
import {
  type Browser,
  type BrowserContext,
  type Disposable,
  type Page,
  type PlaywrightTestOptions,
} from '@playwright/test';

/** What is done to the page and would still be there in the next test. */
const LASTING = ['addInitScript', 'exposeFunction', 'route'] as const;

/** What is done to the whole context, and cannot be taken back or is not worth it. */
const REFUSED = [...LASTING, 'setOffline', 'grantPermissions'] as const;

/** How a page is as long as no test has asked for anything else. */
const USUAL = {
  media: null,
  colorScheme: 'light',
  reducedMotion: 'no-preference',
  forcedColors: 'none',
} as const;

export class KeptPage {
  readonly page: Page;
  readonly #undo: Disposable[] = [];
  /** Where the site is, whichever page of the context has been there. */
  readonly #home: string | undefined;

  private constructor(page: Page, home: string | undefined) {
    this.page = page;
    this.#home = home;
    for (const name of LASTING) {
      const lasting = page[name].bind(page) as (...given: unknown[]) => Promise<Disposable>;
      const remembered = async (...given: unknown[]): Promise<Disposable> => {
        const undo = await lasting(...given);
        this.#undo.push(undo);
        return undo;
      };
      Object.assign(page, { [name]: remembered });
    }
    for (const name of REFUSED) {
      const refuse = (): never => {
        throw new Error(`${name} would outlast the test, which needs a context of its own`);
      };
      Object.assign(page.context(), { [name]: refuse });
    }
  }

  /** Opens one, in a context with the options given. */
  static async open(
    browser: Browser,
    { baseURL, serviceWorkers }: Partial<PlaywrightTestOptions>,
  ): Promise<KeptPage> {
    const context = await browser.newContext({
      ...(baseURL === undefined ? {} : { baseURL }),
      ...(serviceWorkers === undefined ? {} : { serviceWorkers }),
    });
    const home = baseURL === undefined ? undefined : new URL(baseURL).origin;
    const kept = new KeptPage(await context.newPage(), home);
    await kept.page.emulateMedia(USUAL);
    return kept;
  }

  get context(): BrowserContext {
    return this.page.context();
  }

  /** Leaves it empty, with nothing kept by the site, as a new one would be. */
  async clear(): Promise<void> {
    const { page, context } = this;
    if (new URL(page.url()).protocol === 'http:') await page.evaluate(() => sessionStorage.clear());
    await page.goto('about:blank');
    for (const other of context.pages()) if (other !== page) await other.close();
    for (const undo of this.#undo.splice(0)) await undo.dispose();
    await page.emulateMedia(USUAL);
    await page.mouse.move(0, 0);
    if (this.#home === undefined) return;
    const session = await context.newCDPSession(page);
    const storageTypes = 'local_storage,indexeddb';
    await session.send('Storage.clearDataForOrigin', { origin: this.#home, storageTypes });
    await session.detach();
  }
}
