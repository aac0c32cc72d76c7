/** A history of fifty thousand steps, as an earlier program left it: how long it takes to open is told. */
import { expect, test } from '../page';
import { fileOf } from '../shelfPage';

const STEPS = 50_000;

test('a history of fifty thousand steps opens, and goes back and forth', async ({
  page,
  trouble,
}, info) => {
  test.setTimeout(300_000);
  trouble.allow(/favicon\.ico/);
  await page.goto('icon.svg');
  await page.evaluate(
    async ({ count, text }) => {
      const opened = await new Promise<IDBDatabase>((done) => {
        const request = indexedDB.open('gripwright', 1);
        request.onupgradeneeded = () => {
          const entries = request.result.createObjectStore('entries', { keyPath: 'id' });
          entries.createIndex('kind', 'kind');
          for (const name of ['steps', 'versions'])
            request.result.createObjectStore(name, { keyPath: ['document', 'number'] });
        };
        request.onsuccess = () => done(request.result);
      });
      const transaction = opened.transaction(['entries', 'steps'], 'readwrite');
      const entry = { id: 'k', kind: 'setup', name: 'Long', revision: 1, head: count };
      transaction.objectStore('entries').add({ ...entry, made: 0, changed: 0 });
      for (let number = 1; number <= count; number++)
        transaction.objectStore('steps').add({
          document: 'k',
          number,
          after: number - 1,
          label: `edit ${number}`,
          at: number * 10_000,
          name: 'Long',
          text: text.replace('NOTES', `edit ${number}`),
        });
      await new Promise<void>((done) => {
        transaction.oncomplete = () => done();
      });
      opened.close();
    },
    { count: STEPS, text: fileOf('Long', { notes: 'NOTES' }) },
  );
  const open = async (): Promise<number> => {
    const began = Date.now();
    await page.goto('bench/?setup=k');
    await expect(page.getByRole('heading', { level: 1 })).toHaveText('Long');
    return Date.now() - began;
  };
  const notes = page.getByRole('textbox', { name: 'Notes', exact: true });
  const began = Date.now();
  await page.goto('bench/?setup=none');
  await expect(page.getByRole('alert')).toContainText('There is no setup');
  const start = Date.now() - began;
  const took = [await open(), await open()];
  const description = `${took.join(' and ')} ms from the address, where the start alone takes ${start} ms`;
  info.annotations.push({ type: 'time', description });
  console.log(description);
  await expect(notes).toHaveValue(`edit ${STEPS}`);
  await page.getByRole('button', { name: 'Undo', exact: true }).click();
  await expect(notes).toHaveValue(`edit ${STEPS - 1}`);
  await page.getByRole('button', { name: 'Redo', exact: true }).click();
  await expect(notes).toHaveValue(`edit ${STEPS}`);
});
