/** What is typed into a field and not yet left is kept, and so is an edit of the very moment of leaving. */
import { expect, keptPageTest as test } from './page';
import { ShelfPage, fileOf } from './shelfPage';

async function bench(shelf: ShelfPage): Promise<string> {
  await shelf.open();
  await shelf.drop([{ name: 'x.json', content: fileOf('Typed') }]);
  const address = await shelf.page.getByRole('link', { name: 'Typed' }).getAttribute('href');
  const id = new URL(address ?? '', shelf.page.url()).searchParams.get('setup') ?? '';
  await shelf.page.goto(`bench/?setup=${id}`);
  await expect(shelf.page.getByRole('heading', { level: 1 })).toHaveText('Typed');
  return id;
}

test('notes, name and scale length that are being typed are there after a reload', async ({
  page,
}) => {
  await bench(new ShelfPage(page));
  const notes = page.getByRole('textbox', { name: 'Notes', exact: true });
  await notes.pressSequentially('new strings in May ');
  // typed a moment ago, and the field is not left
  await page.reload();
  await expect(notes).toHaveValue('new strings in May ');

  const scale = page.getByRole('textbox', { name: /^Scale length/ });
  await scale.fill('');
  await scale.pressSequentially('600');
  await page.reload();
  await expect(scale).toHaveValue('600');

  const name = page.getByRole('textbox', { name: 'Name', exact: true });
  await name.press('End');
  await name.pressSequentially(' once more');
  await expect(page.getByRole('heading', { level: 1 })).toHaveText('Typed once more');
  // the field goes on as it was typed
  await name.pressSequentially(' ');
  // that the field is not written over shows only after the time in which it would have been
  await page.waitForTimeout(600);
  await expect(name).toHaveValue('Typed once more ');
  await page.getByRole('button', { name: 'Undo', exact: true }).click();
  await expect(page.getByRole('heading', { level: 1 })).toHaveText('Typed');
});

test('an edit is kept though the page is closed in the same moment', async ({ context }) => {
  const shelf = new ShelfPage(await context.newPage());
  const id = await bench(shelf);
  for (const word of ['one', 'two', 'three']) {
    const page = await context.newPage();
    await page.goto(`bench/?setup=${id}`);
    const notes = page.getByRole('textbox', { name: 'Notes', exact: true });
    await expect(page.getByRole('heading', { level: 1 })).toHaveText('Typed');
    await notes.fill(word);
    await page.close({ runBeforeUnload: true });
    const again = await context.newPage();
    await again.goto(`bench/?setup=${id}`);
    await expect(again.getByRole('textbox', { name: 'Notes', exact: true })).toHaveValue(word);
    await again.close();
  }
});

test('the first edit of a setup of the program is kept though the page is reloaded at once', async ({
  page,
}) => {
  await page.goto('bench/');
  const notes = page.getByRole('textbox', { name: 'Notes', exact: true });
  await expect(page.getByRole('grid')).toBeVisible();
  // the chart is in sight before the page listens
  await page.waitForLoadState('networkidle');
  await notes.fill('mine now');
  await page.reload();
  const shelf = new ShelfPage(page);
  await shelf.open();
  await expect(shelf.names).toHaveText(['E9, three pedals and five levers, copy']);
  await page.getByRole('link', { name: /copy$/ }).click();
  // from Explore of that copy on to its Bench
  await expect(page).toHaveURL(/\/\?setup=/);
  await page.getByRole('link', { name: 'Bench', exact: true }).click();
  await expect(notes).toHaveValue('mine now');
});

test('what is typed first into a setup of the program is there after a reload in the same moment', async ({
  page,
}) => {
  await page.goto('bench/');
  const notes = page.getByRole('textbox', { name: 'Notes', exact: true });
  await expect(page.getByRole('heading', { level: 1 })).toHaveText(/^E9/);
  // as a player types, for longer than the pause that ends a step
  await notes.pressSequentially('new strings in May', { delay: 100 });
  await page.reload();
  await expect(notes).toHaveValue('new strings in May');
  await expect(page.getByRole('heading', { level: 1 })).toHaveText(/copy$/);
  // one step, however it came in
  await page.getByRole('button', { name: 'Undo', exact: true }).click();
  await expect(notes).toHaveValue('');
});
