/** Tabs that are killed while setups are edited in them, one edit right after the other. */
import { type BrowserContext, type Page } from '@playwright/test';
import { expect } from './page';
import { ShelfPage, fileOf } from './shelfPage';

/** The tab's process ends at once, as when the system runs out of memory. */
export async function kill(page: Page): Promise<void> {
  const session = await page.context().newCDPSession(page);
  const crashed = page.waitForEvent('crash');
  // the answer never comes
  session.send('Page.crash').catch(() => undefined);
  await crashed;
  await page.close();
}

/** Edits a setup so many times, and kills the tab after every ten to twenty-four. */
export async function killWhileEditing(
  context: BrowserContext,
  wanted: number,
  random: () => number,
): Promise<void> {
  let edits = 0;
  let kills = 0;
  let name = 'Edited';
  const first = new ShelfPage(await context.newPage());
  await first.open();
  await first.drop([{ name: 'x.json', content: fileOf(name) }]);
  await expect(first.names).toHaveText([name]);
  await first.page.close();
  while (edits < wanted) {
    const shelf = new ShelfPage(await context.newPage());
    await shelf.open();
    await expect(shelf.names).toHaveText([name]);
    const until = Math.min(wanted, edits + 10 + Math.floor(random() * 15));
    let before = name;
    // one edit right after the other, as fast as the page takes them
    await shelf.page.exposeFunction('edited', (to: string) => {
      before = name;
      name = to;
      edits += 1;
    });
    const names = Array.from({ length: until - edits }, () => `Edit ${Math.floor(random() * 1e9)}`);
    await shelf.page.evaluate(async (all) => {
      const { edited } = window as unknown as { edited: (name: string) => Promise<void> };
      const turn = () => new Promise((done) => setTimeout(done, 5));
      for (const name of all) {
        const find = <E extends Element>(what: string): E | undefined =>
          document.querySelector<E>(what) ?? undefined;
        const buttons = () => [...document.querySelectorAll<HTMLButtonElement>('.shelf button')];
        let rename: HTMLButtonElement | undefined;
        while (
          (rename = buttons().find((each) => each.textContent.trim() === 'Rename')) === undefined ||
          find('.shelf form')
        )
          await turn();
        rename.click();
        let field: HTMLInputElement | undefined;
        while ((field = find<HTMLInputElement>('.shelf form input')) === undefined) await turn();
        field.value = name;
        field.dispatchEvent(new Event('input', { bubbles: true }));
        field.form?.requestSubmit();
        await edited(name);
      }
    }, names);
    // the last edit was sent off this very moment
    await kill(shelf.page);
    kills += 1;
    const again = new ShelfPage(await context.newPage());
    await again.open();
    await expect(again.names).toHaveText([new RegExp(`^(${name}|${before})$`)]);
    name = (await again.names.textContent()) ?? '';
    await again.page.close();
  }
  // and the whole past is there: every edit is a step
  const last = new ShelfPage(await context.newPage());
  await last.open();
  await last.button(name, 'Versions').click();
  const every = last.dialog.getByText(/^Every edit/);
  await every.click();
  // an old past is fetched piece by piece
  const earlier = last.dialog.getByRole('button', { name: 'Show earlier edits' });
  await expect(async () => {
    if (await earlier.isVisible()) await earlier.click();
    expect(await every.textContent()).not.toContain('more');
  }).toPass();
  const steps = Number(/\d+/.exec((await every.textContent()) ?? '')?.[0]);
  expect(steps).toBeGreaterThanOrEqual(wanted - kills);
  expect(steps).toBeLessThanOrEqual(wanted + 1);
}
