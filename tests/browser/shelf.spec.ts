/** What is kept on the device: copies, names, versions, files. */
import { readFileSync } from 'node:fs';
import { expectNoObjection } from './axe';
import { expect, keptPageTest as test } from './page';
import { ShelfPage, fileOf } from './shelfPage';

// each is a walk of many steps in one page
test.describe.configure({ timeout: 120_000 });

const E9 = 'E9, three pedals and five levers';

test('a copy is kept, renamed, duplicated, deleted and restored, and all of it lasts', async ({
  page,
}) => {
  const shelf = new ShelfPage(page);
  await shelf.open();
  await expect(page.getByText('Nothing is kept here yet.')).toBeVisible();
  await shelf.keep();
  await shelf.rename(E9, 'Lantern Road');
  await expect(shelf.names).toHaveText(['Lantern Road']);
  await expect(page.getByText('It is called “Lantern Road” now.')).toBeVisible();

  await shelf.button('Lantern Road', 'Duplicate').click();
  await expect(shelf.names).toHaveText(['Lantern Road, copy', 'Lantern Road']);
  await shelf.button('Lantern Road', 'Delete').click();
  await expect(shelf.names).toHaveText(['Lantern Road, copy']);
  await page.reload();
  await expect(shelf.names).toHaveText(['Lantern Road, copy']);
  await page.getByText('Deleted (1)').click();
  await shelf.button('Lantern Road', 'Restore').click();
  await expect(shelf.names).toHaveText(['Lantern Road, copy', 'Lantern Road']);

  await shelf.button('Lantern Road, copy', 'Delete').click();
  // the way back is at hand
  await expect(page.getByRole('button', { name: 'Restore “Lantern Road, copy”' })).toBeFocused();
  await page.keyboard.press('Enter');
  await expect(shelf.names).toHaveText(['Lantern Road, copy', 'Lantern Road']);

  await shelf.button('Lantern Road', 'Delete').click();
  await page.getByText('Deleted (1)').click();
  page.once('dialog', (dialog) => void dialog.accept());
  await shelf.button('Lantern Road', 'Delete for good').click();
  await expect(page.getByText('“Lantern Road” is deleted for good.')).toBeVisible();
  await page.reload();
  await expect(shelf.names).toHaveText(['Lantern Road, copy']);
  await expect(page.getByText(/^Deleted/)).toHaveCount(0);
});

test('a name that cannot be is refused, and a named version is brought back', async ({ page }) => {
  await test.step('a name that cannot be is refused with a sentence, and nothing is changed', async () => {
    const shelf = new ShelfPage(page);
    await shelf.open();
    await shelf.keep();
    await shelf.rename(E9, '   ');
    await expect(page.getByRole('alert').filter({ hasText: 'name' })).toContainText('1 to 200');
    await page.getByRole('button', { name: 'Cancel' }).click();
    await expect(shelf.names).toHaveText([E9]);
    await expect(shelf.button(E9, 'Rename')).toBeFocused();
  });

  await test.step('a named version is brought back, with the whole past', async () => {
    const shelf = new ShelfPage(page);
    await shelf.rename(E9, 'Before');
    await shelf.button('Before', 'Versions').click();
    await shelf.dialog.getByRole('textbox').fill('before the new lever');
    await shelf.dialog.getByRole('button', { name: 'Save this version' }).click();
    await expect(shelf.dialog.getByText('Saved as “before the new lever”.')).toBeVisible();
    await expectNoObjection(page);
    await page.keyboard.press('Escape');
    await expect(shelf.dialog).toHaveCount(0);
    await shelf.rename('Before', 'After');
    await expect(shelf.names).toHaveText(['After']);
    await page.reload();

    await shelf.button('After', 'Versions').click();
    await shelf.dialog.getByText(/^Every edit/).click();
    // made, to Before, to After: the latest first
    await expect(shelf.dialog.locator('ol > li')).toHaveText([
      /After.*now/s,
      /Before/,
      /copied from/,
    ]);
    await shelf.dialog.getByRole('button', { name: 'Back to before the new lever' }).click();
    await expect(shelf.dialog.getByText('Undo leads to where you were.')).toBeVisible();
    await shelf.dialog.getByRole('button', { name: 'Close' }).click();
    await expect(shelf.names).toHaveText(['Before']);
  });
});

test('a setup saved as a file opens again as the same', async ({ page }) => {
  const shelf = new ShelfPage(page);
  await shelf.open();
  await shelf.keep();
  const saving = page.waitForEvent('download');
  await shelf.button(E9, 'Save as a file').click();
  const saved = await saving;
  expect(saved.suggestedFilename()).toMatch(/\.json$/);
  const path = await saved.path();
  const text = readFileSync(path, 'utf8');
  expect(JSON.parse(text)).toMatchObject({ format: 1, name: E9 });

  const files = page.locator('input[type=file]');
  await files.setInputFiles(path);
  await expect(shelf.answers).toHaveText([/which is here already/]);
  await shelf.rename(E9, 'Mine');
  await expect(shelf.names).toHaveText(['Mine']);
  await files.setInputFiles(path);
  await expect(shelf.names).toHaveText([E9, 'Mine']);
  const again = page.waitForEvent('download');
  await shelf.button(E9, 'Save as a file').click();
  expect(readFileSync(await (await again).path(), 'utf8')).toBe(text);
});

test('several files are dropped at once, and each is answered by itself', async ({ page }) => {
  const shelf = new ShelfPage(page);
  await shelf.open();
  await page.evaluate(() => {
    const watching = new MutationObserver(() => {
      const list = document.querySelector('.shelf');
      if (list === null) return;
      Object.assign(globalThis, { came: list.getBoundingClientRect().top });
      watching.disconnect();
    });
    watching.observe(document.body, { childList: true, subtree: true });
  });
  await shelf.drop([
    { name: 'one.json', content: fileOf('One') },
    { name: 'wrong.json', content: fileOf('Wrong', { frets: 99, scaleLengthMm: 'long' }) },
    { name: 'bytes.json', content: [0x7b, 0xff, 0xfe, 0x7d] },
    { name: 'deep.json', content: '['.repeat(100_000) },
    { name: 'newer.json', content: fileOf('Newer', { format: 7 }) },
    { name: 'two.json', content: fileOf('Two') },
  ]);
  const answer = (file: string) => shelf.answers.filter({ hasText: file });
  await expect(shelf.answers).toHaveCount(6);
  await expect(answer('one.json')).toContainText('is kept as “One”');
  await expect(answer('two.json')).toContainText('is kept as “Two”');
  await expect(answer('wrong.json')).toContainText('2 faults. Nothing was changed.');
  await expect(answer('wrong.json').locator('li')).toHaveText([
    /^frets: found 99; allowed is a whole number from 0 to 36\.$/,
    /^scaleLengthMm: found “long”; allowed is a number .* millimetres\.$/,
  ]);
  await expect(answer('bytes.json')).toContainText('not text in UTF-8');
  await expect(answer('deep.json')).toContainText('not JSON');
  await expect(answer('newer.json')).toContainText('newer');
  await expect(shelf.names).toHaveText(['Two', 'One']);
  // what stands under the answers has not moved since it came: no press on it was lost
  const [came, stands] = await page.evaluate(() => [
    Reflect.get(globalThis, 'came') as number,
    document.querySelector('.shelf')?.getBoundingClientRect().top,
  ]);
  expect(stands).toBe(came);
  await expectNoObjection(page);

  await answer('two.json').getByRole('link', { name: 'Open it' }).click();
  await expect(
    page.getByRole('combobox', { name: 'Setup', exact: true }).locator('option:checked'),
  ).toHaveText('Two');
});

test('a file of 50 megabytes is refused by its size, without being read', async ({ page }) => {
  const shelf = new ShelfPage(page);
  await page.addInitScript(() => {
    Blob.prototype.arrayBuffer = () => Promise.reject(new Error('it was read all the same'));
    Blob.prototype.text = () => Promise.reject(new Error('it was read all the same'));
  });
  await shelf.open();
  await page.evaluate(() => {
    const dataTransfer = new DataTransfer();
    dataTransfer.items.add(new File([new Uint8Array(50_000_000)], 'huge.json'));
    document.body.dispatchEvent(
      new DragEvent('drop', { bubbles: true, cancelable: true, dataTransfer }),
    );
  });
  await expect(shelf.answers).toContainText(
    'found 50 megabytes; allowed is a file of at most 8 megabytes',
  );
});

test('a name with markup in it is text everywhere', async ({ page, gripwright }) => {
  const name = '<img src=x onerror="document.title=1"><b>bold</b>';
  const shelf = new ShelfPage(page);
  await shelf.open();
  await shelf.drop([{ name: '<i>x</i>.json', content: fileOf(name, { notes: name }) }]);
  await expect(shelf.names).toHaveText([name]);
  await expect(shelf.answers).toContainText('<i>x</i>.json');
  for (const window of ['Versions', 'Share'] as const) {
    await shelf.button(name, window).click();
    await expect(shelf.dialog.getByRole('heading', { level: 2 })).toContainText(name);
    if (window === 'Share') {
      const link = await shelf.dialog.getByRole('textbox', { name: /^Link/ }).inputValue();
      await page.goto(link);
      await expect(page.getByRole('heading', { level: 1 })).toHaveText(name);
    } else await page.keyboard.press('Escape');
  }
  await expect(page.locator('main img, main b')).toHaveCount(0);
  await page.getByRole('button', { name: 'Explore without keeping' }).click();
  await expect(gripwright.setup.locator('option:checked')).toHaveText(name);
  await expect(page.locator('img')).toHaveCount(0);
});

test('an address names a kept setup, or one that is not here', async ({ page, gripwright }) => {
  await test.step('Explore opens a kept setup by its address, and lists it first', async () => {
    const shelf = new ShelfPage(page);
    await shelf.open();
    await shelf.drop([{ name: 'g.json', content: fileOf('Three strings in G') }]);
    await page.getByRole('link', { name: 'Three strings in G' }).click();
    await expect(page).toHaveURL(/\?setup=kept-[a-z0-9]+$/);
    await expect(gripwright.string(3)).toHaveAccessibleName(/^String 3, G 3/);
    await expect(gripwright.string(4)).toHaveCount(0);
    await page.reload();
    await expect(gripwright.string(3)).toHaveAccessibleName(/^String 3, G 3/);
    await expect(gripwright.setup.locator('optgroup').first()).toHaveAttribute(
      'label',
      'Kept on this device',
    );
    await gripwright.ask('G');
    await expect(page).toHaveURL(/setup=kept-[a-z0-9]+&chord=G$/);
    await expect(gripwright.rows.first()).toHaveAccessibleName(
      /Fret 0, nothing engaged, strings 1 2 3/,
    );
  });

  await test.step('an address of a setup that is not here says so', async () => {
    await gripwright.open('?setup=kept-nowhere&chord=G');
    await expect(page.getByRole('alert')).toHaveText(
      /There is no setup “kept-nowhere” on this device\..*E9 is shown instead\./,
    );
    await expect(gripwright.heading).toContainText(/^G /);
    await gripwright.setup.selectOption({ label: 'C6, five pedals and three levers' });
    await expect(page.getByRole('alert')).toHaveCount(0);
  });
});

test('axe has no objection to the shelf, empty and in use, in light and dark', async ({ page }) => {
  await page.setViewportSize({ width: 360, height: 740 });
  const expectNone = async (what: string): Promise<void> => {
    await page.emulateMedia({ colorScheme: 'light', reducedMotion: 'reduce' });
    await expectNoObjection(page, `${what}, in light`);
    await page.emulateMedia({ colorScheme: 'dark' });
    await expectNoObjection(page, `${what}, in the dark`, 'colours');
  };
  const shelf = new ShelfPage(page);
  await shelf.open();
  await expectNone('empty');
  await shelf.keep();
  await shelf.button(E9, 'Duplicate').click();
  await shelf.button(`${E9}, copy`, 'Delete').click();
  await page.getByText('Deleted (1)').click();
  await shelf.button(E9, 'Rename').click();
  await expectNone('deleted and renamed');
  await page.getByRole('button', { name: 'Cancel' }).click();
  await shelf.button(E9, 'Share').click();
  await expectNone('shared');
  const wide = await page.evaluate(() => document.documentElement.scrollWidth);
  expect(wide).toBeLessThanOrEqual(360);
});
