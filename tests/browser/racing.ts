/** Two tabs that edit one setup in the same instant. */
import { type BrowserContext, type Page } from '@playwright/test';
import { BenchPage } from './benchPage';
import { expect } from './page';
import { ShelfPage, fileOf } from './shelfPage';

/** A neck of ten strings, so that two tabs have cells enough of their own. */
const TEN = {
  necks: [{ name: 'Ten', strings: Array.from({ length: 10 }, () => ({ open: 'E4' })) }],
};

/** Writes a text into a cell of the chart at a given moment, and leaves it. */
const typeAt = (page: Page, cell: string, text: string, at: number): Promise<number> =>
  page.evaluate(
    async ({ cell, text, at }) => {
      const found = [...document.querySelectorAll<HTMLElement>('[role="gridcell"]')].find((each) =>
        each.getAttribute('aria-label')?.startsWith(cell),
      );
      if (found === undefined) throw new Error(`no cell ${cell}`);
      const press = (key: string): boolean =>
        (document.activeElement ?? found).dispatchEvent(
          new KeyboardEvent('keydown', { key, bubbles: true, cancelable: true }),
        );
      found.focus();
      // the moment is waited for, so that both tabs write in the same millisecond
      while (Date.now() < at);
      const began = Date.now();
      press(text[0] ?? '');
      await new Promise((done) => requestAnimationFrame(() => setTimeout(done)));
      const field = document.querySelector<HTMLInputElement>('[role="grid"] input');
      if (field === null) throw new Error('no field');
      field.value = text;
      field.dispatchEvent(new Event('input', { bubbles: true }));
      press('Enter');
      return began;
    },
    { cell, text, at },
  );

export interface Raced {
  readonly rounds: number;
  /** Rounds in which one of the two writes met the other one's. */
  readonly met: number;
}

/** In every round both tabs write a pull into a cell of their own; nothing of it may be lost. */
export async function race(context: BrowserContext, rounds: number): Promise<Raced> {
  const shelf = new ShelfPage(await context.newPage());
  await shelf.open();
  await shelf.drop([
    {
      name: 'x.json',
      content: fileOf('Raced', {
        ...TEN,
        controls: [
          { id: 'A', station: 'P1', pulls: [] },
          { id: 'B', station: 'P2', pulls: [] },
        ],
      }),
    },
  ]);
  const link = shelf.page.getByRole('link', { name: 'Raced' });
  const address = (await link.getAttribute('href')) ?? '';
  const id = new URL(address, shelf.page.url()).searchParams.get('setup') ?? '';
  const tabs: BenchPage[] = [];
  for (let tab = 0; tab < 2; tab++) {
    const bench = new BenchPage(tab === 0 ? shelf.page : await context.newPage());
    await bench.open(`?setup=${id}`);
    tabs.push(bench);
  }
  let met = 0;
  const pulls = new Map<string, string>();
  for (let round = 0; round < rounds; round++) {
    const string = 1 + (round % 10);
    const text = `+${1 + (Math.floor(round / 10) % 5)}`;
    const at = Date.now() + 150;
    await Promise.all(
      tabs.map(({ page }, tab) =>
        typeAt(page, `${'AB'[tab] ?? ''} on string ${string}:`, text, at),
      ),
    );
    for (const control of ['A', 'B']) pulls.set(`${control} on string ${string}`, text);
    for (const { page } of tabs)
      await expect(page.getByText('Kept on this device', { exact: true })).toBeVisible();
    // each tab shows what both did
    for (const bench of tabs)
      for (const control of ['A', 'B'])
        await expect(bench.cell(control, string), `round ${round + 1}`).toHaveText(
          new RegExp(`^\\${text}`),
        );
    const told = await Promise.all(
      tabs.map(({ page }) => page.getByText(/at the same moment too/).count()),
    );
    if (told.some((count) => count > 0)) met += 1;
  }
  // and so does the device, to a tab that was not there
  const later = new BenchPage(await context.newPage());
  await later.open(`?setup=${id}`);
  for (const [cell, text] of pulls) {
    const [control = '', string] = cell.split(' on string ');
    await expect(later.cell(control, Number(string))).toHaveText(new RegExp(`^\\${text}`));
  }
  return { rounds, met };
}
