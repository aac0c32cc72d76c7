/**
 * The page as a player meets it: places found by role and name, as a screen reader finds them. Every
 * test that takes `test` from here fails on an error in the console, on an uncaught one, and on a
 * request to anywhere but the test's own server.
 */
import {
  test as base,
  expect,
  type BrowserContext,
  type ConsoleMessage,
  type Locator,
  type Page,
  type Request,
  type WebError,
} from '@playwright/test';
import { KeptPage } from './keptPage';

export { expect };

export class Gripwright {
  readonly page: Page;

  constructor(page: Page) {
    this.page = page;
  }

  /** Opens an address (the part after the slash) and waits for its first answer. */
  async open(address = ''): Promise<void> {
    await this.page.goto(address);
    await expect(this.page.getByText('Searching the neck…')).toBeHidden();
    await this.settle();
  }

  /** Long lists grow over several frames; this waits until they stand. */
  async settle(): Promise<void> {
    await expect(this.page.locator('ol[aria-busy="true"]')).toHaveCount(0);
  }

  get chord(): Locator {
    return this.page.getByRole('textbox', { name: 'Chord' });
  }
  get key(): Locator {
    return this.page.getByRole('textbox', { name: /^Key/ });
  }
  get setup(): Locator {
    return this.page.getByRole('combobox', { name: 'Setup', exact: true });
  }
  get play(): Locator {
    return this.page.getByRole('button', { name: 'Play', exact: true });
  }
  get stop(): Locator {
    return this.page.getByRole('button', { name: 'Stop', exact: true });
  }
  get bar(): Locator {
    return this.page.getByRole('slider', { name: 'Bar', exact: true });
  }
  /** The chord the rows are of, with how many there are. */
  get heading(): Locator {
    return this.page.getByRole('heading', { level: 2, name: /voicings? in/ });
  }
  get rows(): Locator {
    return this.page
      .getByRole('list', { name: 'Voicings, easiest first' })
      .getByRole('button', { name: /^(\w+ neck, fret|\w+ neck, slanted bar|Fret|Slanted bar)/ });
  }
  get current(): Locator {
    return this.rows.and(this.page.locator('[aria-current="true"]'));
  }
  get limits(): Locator {
    return this.page.getByRole('button', { name: /Limits/ });
  }

  /** Everything that stands beside the rows, or is opened by "More" where there is no room for it. */
  get more(): Locator {
    return this.page.getByRole('region', { name: 'More about what is engaged' });
  }

  string(number: number): Locator {
    return this.page.getByRole('button', { name: new RegExp(`^String ${number},`) });
  }
  /** A pedal or lever by its id. */
  control(id: string): Locator {
    return this.page.getByRole('button', { name: new RegExp(`^(Pedal|Lever) ${id}[,:]`) });
  }
  /** One limit, once they are unfolded. */
  limit(label: string): Locator {
    const within = this.page.getByRole('region', { name: 'Voicings' });
    const options = { name: label, exact: true } as const;
    return within.getByRole('textbox', options).or(within.getByRole('combobox', options));
  }

  /** Unfolds one of the things beside the rows. */
  async unfold(title: string): Promise<void> {
    if (!(await this.more.isVisible()))
      await this.page.getByRole('button', { name: 'More', exact: true }).click();
    await this.more.locator('summary', { hasText: title }).click();
  }
  /** Chooses light or dark in the menu of the header, and closes it. */
  async chooseTheme(name: 'System' | 'Light' | 'Dark'): Promise<void> {
    await this.page.getByRole('button', { name: 'Preferences' }).click();
    await this.page.getByRole('button', { name, exact: true }).click();
    await this.page.keyboard.press('Escape');
  }

  /** Chooses how notes are called in the menu of the header, and closes it. */
  async callNotes(name: 'C D … B' | 'C D … H' | 'Do Re … Si'): Promise<void> {
    await this.page.getByRole('button', { name: 'Preferences' }).click();
    await this.page.getByRole('button', { name, exact: true }).click();
    await this.page.keyboard.press('Escape');
  }

  /** Types a chord and finishes the question. */
  async ask(symbol: string): Promise<void> {
    await this.chord.fill(symbol);
    await this.chord.press('Enter');
  }
  /** Types a limit and leaves its field. */
  async setLimit(label: string, text: string): Promise<void> {
    await this.limit(label).fill(text);
    await this.limit(label).press('Enter');
  }

  /** What sounds is said to be this. */
  async expectName(spoken: string): Promise<void> {
    const neck = this.page.getByRole('region', { name: 'Neck' });
    await expect(neck.getByText(spoken, { exact: true })).toBeVisible();
  }
  async expectFret(fret: number): Promise<void> {
    await expect(this.bar).toHaveAttribute('aria-valuenow', String(fret));
  }
  async expectPicked(...strings: number[]): Promise<void> {
    const picked = this.page.getByRole('toolbar').getByRole('button', { pressed: true });
    await expect(picked).toHaveText(strings.map((each) => new RegExp(`^\\s*${each}\\s`)));
  }
  /** The names of all rows on show, top to bottom. */
  async rowNames(): Promise<string[]> {
    await this.settle();
    return this.rows.evaluateAll((rows) => rows.map((row) => row.getAttribute('aria-label') ?? ''));
  }
  /** The notes of all rows on show, each in the order of its strings. */
  async rowNotes(): Promise<string[][]> {
    await this.settle();
    // rows out of sight have no rendered text
    const texts = await this.rows.locator('.notes').allTextContents();
    return texts.map((text) => text.match(/[A-G][♯♭𝄪𝄫]?\d/gu) ?? []);
  }
}

/** What a visit must never show. */
export class Trouble {
  readonly errors: string[] = [];
  readonly requests: string[] = [];
  #allowed: RegExp | undefined;

  /** Listens to all pages of a context, until the answer is called. */
  watch(context: BrowserContext): () => void {
    const heard = (message: ConsoleMessage): void => {
      if (!['error', 'warning'].includes(message.type())) return;
      // the runner's own doing, for all tests but those of the program without a network
      if (message.text().startsWith('Service Worker registration blocked by')) return;
      this.errors.push(`${message.text()} (${message.location().url})`);
    };
    const thrown = (error: WebError): number => this.errors.push(error.error().message);
    const asked = (request: Request): number => this.requests.push(request.url());
    context.on('console', heard).on('weberror', thrown).on('request', asked);
    return () => context.off('console', heard).off('weberror', thrown).off('request', asked);
  }
  /** For tests that break something on purpose. */
  allow(errors: RegExp): void {
    this.#allowed = errors;
  }
  /** What was asked of other hosts; texts and blobs that the page made itself have none. */
  elsewhere(home: string): string[] {
    const ours = [new URL(home).origin, 'null'];
    return this.requests.filter((url) => !ours.includes(new URL(url).origin));
  }
  get unexpected(): string[] {
    return this.errors.filter((error) => !this.#allowed?.test(error));
  }
}

const withTrouble = base.extend<
  { gripwright: Gripwright; trouble: Trouble },
  // the runner needs workers of one kind only where both kinds of test know of this
  { keptPage: KeptPage }
>({
  keptPage: [
    async ({ browser }, use, { project }) => {
      const kept = await KeptPage.open(browser, project.use);
      await use(kept);
      await kept.context.close();
    },
    { scope: 'worker' },
  ],
  trouble: [
    async ({ context, baseURL }, use) => {
      const trouble = new Trouble();
      const forget = trouble.watch(context);
      await use(trouble);
      forget();
      expect(trouble.unexpected, 'errors and warnings in the console').toEqual([]);
      expect(trouble.elsewhere(baseURL ?? ''), 'requests to other hosts').toEqual([]);
    },
    { auto: true },
  ],
  gripwright: async ({ page }, use) => {
    await use(new Gripwright(page));
  },
});

/** Every test has a page of a context of its own: nothing fetched, nothing kept. */
export const test = withTrouble;

/**
 * The tests of a worker take one page in turn, so that what was fetched and compiled once is there
 * for all of them. Each finds it empty, with nothing kept on the device, and is told its own trouble
 * alone. For whoever listens to the page (`page.on`), changes its context, or is about a first visit,
 * there is `test`.
 */
export const keptPageTest = withTrouble.extend({
  context: async ({ keptPage, viewport }, use) => {
    if (viewport) await keptPage.page.setViewportSize(viewport);
    await use(keptPage.context);
    await keptPage.clear();
  },
  page: async ({ keptPage }, use) => {
    await use(keptPage.page);
  },
});
