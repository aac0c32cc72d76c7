/** A history of fifty thousand steps, as an earlier program left it: how long it takes to open is told. */
import { expect, test } from '../page';
import double from '../../../shared/setups/double.json' with { type: 'json' };

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
    // the largest setup that comes with the program
    { count: STEPS, text: JSON.stringify({ ...double, name: 'Long', notes: 'NOTES' }) },
  );
  // what is read of the database while the document is opened, and for how long
  await page.addInitScript(() => {
    const count = { records: 0 };
    Object.assign(window, { count });
    for (const name of ['get', 'getAll', 'openCursor', 'openKeyCursor'] as const) {
      const were = Reflect.get(IDBObjectStore.prototype, name) as (
        ...given: unknown[]
      ) => IDBRequest;
      Reflect.set(
        IDBObjectStore.prototype,
        name,
        function (this: IDBObjectStore, ...given: unknown[]) {
          const request = were.apply(this, given);
          request.addEventListener('success', () => {
            const { result } = request as IDBRequest<unknown>;
            count.records += Array.isArray(result) ? result.length : 1;
          });
          return request;
        },
      );
    }
  });
  const notes = page.getByRole('textbox', { name: 'Notes', exact: true });
  const took: number[] = [];
  const records: number[] = [];
  for (let time = 0; time < 5; time++) {
    await page.goto('bench/?setup=none');
    await expect(page.getByRole('alert')).toContainText('There is no setup');
    await expect(page.getByText(/voicings of everyday chords/)).toBeVisible();
    // the program stands; from here on it is the opening alone
    const opening = await page.evaluate(async () => {
      const { count } = window as unknown as { count: { records: number } };
      const field = [...document.querySelectorAll('select')].find((each) =>
        [...each.options].some(({ text }) => text === 'Long'),
      );
      if (field === undefined) throw new Error('it cannot be chosen');
      const before = count.records;
      const began = performance.now();
      field.value = 'k';
      field.dispatchEvent(new Event('change', { bubbles: true }));
      const heading = document.querySelector('h1');
      while (heading?.textContent !== 'Long') await new Promise((done) => setTimeout(done));
      return { took: performance.now() - began, records: count.records - before };
    });
    took.push(Math.round(opening.took));
    records.push(opening.records);
  }
  const description = `opened in ${took.join(', ')} ms by reading ${records.join(', ')} records of ${STEPS}`;
  info.annotations.push({ type: 'time', description });
  console.log(description);
  // the newest 256 steps, the entry, and where the last of them is
  for (const read of records) expect(read).toBeLessThanOrEqual(300);
  await expect(notes).toHaveValue(`edit ${STEPS}`);
  await page.getByRole('button', { name: 'Undo', exact: true }).click();
  await expect(notes).toHaveValue(`edit ${STEPS - 1}`);
  await page.getByRole('button', { name: 'Redo', exact: true }).click();
  await expect(notes).toHaveValue(`edit ${STEPS}`);
});
