/** Keeping under bad conditions: killed tabs, two tabs, no room, no leave. */
import { randomFrom } from '../random';
import { SEED } from '../seed';
import { fullDevice, roomOf } from './fullDevice';
import { killWhileEditing } from './killing';
import { expect, keptPageTest as test, test as freshTest } from './page';
import { ShelfPage, fileOf } from './shelfPage';

// a page that is kept might end with the tab
freshTest(
  'a tab that is killed in the middle of forty edits has lost at most the last',
  async ({ context }) => {
    freshTest.setTimeout(240_000);
    await killWhileEditing(context, 40, randomFrom(SEED));
  },
);

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
  await fullDevice(page, trouble, await roomOf(page));
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
