/** Keeping under bad conditions: killed tabs, two tabs, no room, no leave. */
import { type Page } from '@playwright/test';
import { randomFrom } from '../random';
import { expect, test } from './page';
import { ShelfPage, fileOf } from './shelfPage';

/** The tab's process ends at once, as when the system runs out of memory. */
async function kill(page: Page): Promise<void> {
  const session = await page.context().newCDPSession(page);
  const crashed = page.waitForEvent('crash');
  // the answer never comes
  session.send('Page.crash').catch(() => undefined);
  await crashed;
  await page.close();
}

test('a tab that is killed in the middle of a hundred edits has lost at most the last', async ({
  context,
}) => {
  test.setTimeout(240_000);
  const random = randomFrom(20_261_126);
  let edits = 0;
  let name = 'Edited';
  const first = new ShelfPage(await context.newPage());
  await first.open();
  await first.drop([{ name: 'x.json', content: fileOf(name) }]);
  await expect(first.names).toHaveText([name]);
  await first.page.close();
  while (edits < 100) {
    const shelf = new ShelfPage(await context.newPage());
    await shelf.open();
    await expect(shelf.names).toHaveText([name]);
    const until = Math.min(100, edits + 10 + Math.floor(random() * 15));
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
  const steps = Number(
    /\d+/.exec((await last.dialog.getByText(/^Every edit/).textContent()) ?? '')?.[0],
  );
  expect(steps).toBeGreaterThanOrEqual(95);
  expect(steps).toBeLessThanOrEqual(101);
});

test('two tabs show one another’s edits as they are made, Explore among them', async ({
  context,
  gripwright,
  page,
}) => {
  const here = new ShelfPage(page);
  await here.open();
  await here.drop([{ name: 'x.json', content: fileOf('Shared') }]);
  const there = new ShelfPage(await context.newPage());
  await there.open();
  await expect(there.names).toHaveText(['Shared']);
  await here.rename('Shared', 'Renamed here');
  await expect(there.names).toHaveText(['Renamed here']);
  await there.rename('Renamed here', 'Renamed there');
  await expect(here.names).toHaveText(['Renamed there']);
  await here.button('Renamed there', 'Versions').click();
  await here.dialog.getByText(/^Every edit/).click();
  await expect(here.dialog.locator('ol > li')).toHaveText([
    /Renamed there/,
    /Renamed here/,
    /opened from/,
  ]);
  await here.dialog.getByRole('button', { name: 'Close' }).click();

  await here.page.getByRole('link', { name: 'Renamed there' }).click();
  await expect(gripwright.setup.locator('option:checked')).toHaveText('Renamed there');
  await there.rename('Renamed there', 'Once more');
  await expect(gripwright.setup.locator('option:checked')).toHaveText('Once more');
});

test('a device that is full says so, the work goes on, and a file can be saved', async ({
  page,
  trouble,
}) => {
  trouble.allow(/quota/i);
  const shelf = new ShelfPage(page);
  await shelf.open();
  await shelf.keep();
  const session = await page.context().newCDPSession(page);
  await session.send('Storage.overrideQuotaForOrigin', {
    origin: new URL(page.url()).origin,
    quotaSize: 1,
  });
  test.setTimeout(90_000);
  // Chromium goes by the room that it saw at the last write, for half a minute.
  await page.waitForTimeout(31_000);
  await shelf.drop([{ name: 'x.json', content: fileOf('No room', { notes: 'x'.repeat(20_000) }) }]);
  await expect(page.getByRole('alert')).toContainText(
    'This is not kept on the device: the space that this browser gives is full.',
  );
  await expect(shelf.names.first()).toHaveText('No room');
  await expect(shelf.items.first()).toContainText('in this tab only');
  const saving = page.waitForEvent('download');
  await shelf.button('No room', 'Save as file').click();
  expect((await saving).suggestedFilename()).toMatch(/\.json$/);
  await shelf.rename('No room', 'Still none');
  await expect(shelf.names.first()).toHaveText('Still none');

  // what was kept before is untouched; and once there is room again, the rest is kept too
  await session.send('Storage.overrideQuotaForOrigin', { origin: new URL(page.url()).origin });
  await page.getByRole('button', { name: 'Try again' }).click();
  await expect(page.getByRole('alert')).toHaveCount(0);
  await page.reload();
  await expect(shelf.names).toHaveText(['Still none', 'E9, three pedals and five levers']);
});

for (const [what, break_] of [
  [
    'that forbids it',
    () =>
      Object.defineProperty(window, 'indexedDB', {
        get: () => {
          throw new DOMException('Access is denied.', 'SecurityError');
        },
      }),
  ],
  ['without a database', () => Object.defineProperty(window, 'indexedDB', { value: undefined })],
  [
    'that refuses to open one',
    () => {
      IDBFactory.prototype.open = () => {
        throw new DOMException('A mutation operation was attempted.', 'InvalidStateError');
      };
    },
  ],
] as const)
  test(`a browser ${what} says so, and the work goes on in the tab`, async ({
    page,
    gripwright,
  }) => {
    await page.addInitScript(break_);
    const shelf = new ShelfPage(page);
    await shelf.open();
    await expect(page.getByRole('alert')).toContainText(
      'What is kept on this device cannot be reached',
    );
    await shelf.drop([{ name: 'x.json', content: fileOf('In the tab') }]);
    await expect(shelf.names).toHaveText(['In the tab']);
    await shelf.rename('In the tab', 'Goes on');
    await expect(shelf.names).toHaveText(['Goes on']);
    await page.getByRole('link', { name: 'Goes on' }).click();
    await expect(gripwright.string(3)).toHaveAccessibleName(/^String 3, G 3/);
  });
