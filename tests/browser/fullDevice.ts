/** What a player sees and can do on a device that has no room left. */
import { type Page } from '@playwright/test';
import { expect, type Trouble } from './page';
import { ShelfPage, fileOf } from './shelfPage';

interface Room {
  readonly fill: () => Promise<void>;
  readonly makeRoom: () => Promise<void>;
}

/** A page whose browser can be told to have no room; a disk that is really full is a battery of its own. */
export async function roomOf(page: Page): Promise<Room> {
  // the browser's own refusal, at once
  await page.addInitScript(() => {
    for (const name of ['put', 'add'] as const) {
      const write: typeof IDBObjectStore.prototype.put = Reflect.get(
        IDBObjectStore.prototype,
        name,
      );
      IDBObjectStore.prototype[name] = function (this: IDBObjectStore, ...given) {
        if ('noRoom' in window && window.noRoom === true)
          throw new DOMException('There is no room.', 'QuotaExceededError');
        return write.apply(this, given);
      };
    }
  });
  const say = (full: boolean): Promise<void> =>
    page.evaluate((noRoom) => void Object.assign(window, { noRoom }), full);
  return { fill: () => say(true), makeRoom: () => say(false) };
}

export async function fullDevice(
  page: Page,
  trouble: Trouble,
  { fill, makeRoom }: Room,
): Promise<void> {
  trouble.allow(/quota/i);
  const shelf = new ShelfPage(page);
  await shelf.open();
  await shelf.keep();
  await fill();
  await shelf.drop([{ name: 'x.json', content: fileOf('No room', { notes: 'x'.repeat(20_000) }) }]);
  await expect(page.getByRole('alert')).toContainText(
    'This is not kept on the device: the space that this browser gives is full.',
  );
  await expect(shelf.names.first()).toHaveText('No room');
  await expect(shelf.items.first()).toContainText('in this tab only');
  const saving = page.waitForEvent('download');
  await shelf.button('No room', 'Save as a file').click();
  expect((await saving).suggestedFilename()).toMatch(/\.json$/);
  await shelf.rename('No room', 'Still none');
  await expect(shelf.names.first()).toHaveText('Still none');

  // what was kept before is untouched; and once there is room again, the rest is kept too
  await makeRoom();
  await page.getByRole('button', { name: 'Try again' }).click();
  await expect(page.getByRole('alert')).toHaveCount(0);
  await page.reload();
  await expect(shelf.names).toHaveText(['Still none', 'E9, three pedals and five levers']);
}
