/** The list of what is kept on this device, and a document of it that is open. */
import { beforeEach, describe, expect, it, vi } from 'vitest';
import { refuse } from '$lib/result';
import { DatabaseDisk } from '$lib/storage/database';
import { Store } from '$lib/storage/store';
import { TabMessages } from '$lib/storage/tabMessages';
import { Documents } from '$lib/ui/shelf/documents.svelte';
import type { OpenDocument } from '$lib/ui/shelf/openDocument.svelte';
import { BAD, tab, words } from '../storage/tabs';
import { FailingDisk, newBrowser, storeOfTab } from './tabs';

beforeEach(newBrowser);

type Words = readonly string[];

async function shelf(store = storeOfTab()): Promise<Documents<Words>> {
  const documents = new Documents(words);
  documents.start(store);
  await documents.whenReady;
  return documents;
}
async function opened(documents: Documents<Words>, id: string): Promise<OpenDocument<Words>> {
  const open = await documents.open(id);
  if (!open.ok) throw new Error(open.error);
  return open.value;
}
const names = (documents: Documents<Words>): string[] => documents.stored.map(({ name }) => name);
/** Times differ by a millisecond at least. */
const tick = (): Promise<void> => new Promise((done) => setTimeout(done, 2));

describe('the list', () => {
  it('is not known before the device has answered, and is empty on a new one', async () => {
    const documents = new Documents(words);
    documents.start(storeOfTab());
    expect(documents.ready).toBe(false);
    await documents.whenReady;
    expect(documents.ready).toBe(true);
    expect([documents.stored, documents.deleted]).toEqual([[], []]);
    expect(documents.problem).toBeUndefined();
  });

  it('has what was made, the newest first, with what it says', async () => {
    const documents = await shelf();
    const { id } = await documents.create(['one', 'two'], 'made');
    expect(id).toMatch(/^kept-[2-9a-hjkmnp-z]{10}$/);
    await tick();
    await documents.create(['three'], 'made');
    expect(names(documents)).toEqual(['three', 'one']);
    expect(documents.get(id)).toEqual(['one', 'two']);
    expect(documents.about(id)).toMatchObject({
      name: 'one',
      revision: 1,
      deleted: false,
      lasting: true,
      text: 'one two',
    });
  });

  it('puts first what was changed last', async () => {
    const documents = await shelf();
    const { id } = await documents.create(['one'], 'made');
    await tick();
    await documents.create(['two'], 'made');
    await tick();
    const document = await opened(documents, id);
    document.edit(['one', 'more'], 'more');
    await document.settled();
    await vi.waitFor(() => expect(names(documents)).toEqual(['one', 'two']));
    expect(documents.get(id)).toEqual(['one', 'more']);
  });

  it('follows other tabs: what they make, change and delete', async () => {
    const [here, there] = [await shelf(), await shelf()];
    const { id } = await there.create(['theirs'], 'made');
    await vi.waitFor(() => expect(names(here)).toEqual(['theirs']));
    const document = await opened(there, id);
    document.edit(['changed'], 'changed');
    await vi.waitFor(() => expect(here.get(id)).toEqual(['changed']));
    await there.delete(id);
    await vi.waitFor(() => expect(names(here)).toEqual([]));
    expect(here.deleted.map(({ name }) => name)).toEqual(['changed']);
    await there.removeForGood(id);
    await vi.waitFor(() => expect(here.deleted).toEqual([]));
  });

  it('is read anew by a tab that slept, and leaves what has not changed the same object', async () => {
    const store = new Store(new DatabaseDisk(), new TabMessages(`deaf ${Math.random()}`));
    const documents = await shelf(store);
    const { id } = await documents.create(['one'], 'made');
    const before = documents.about(id);
    await (await shelf()).create(['two'], 'made');
    document.dispatchEvent(new Event('visibilitychange'));
    await vi.waitFor(() => expect(names(documents).sort()).toEqual(['one', 'two']));
    expect(documents.about(id)).toBe(before);
  });
});

describe('a document', () => {
  it('is deleted and put back, and is gone for good when that is asked', async () => {
    const documents = await shelf();
    const { id } = await documents.create(['one'], 'made');
    await documents.delete(id);
    expect(documents.stored).toEqual([]);
    expect(documents.deleted).toHaveLength(1);
    expect(documents.get(id)).toEqual(['one']);
    await documents.putBack(id);
    expect(names(documents)).toEqual(['one']);
    await documents.removeForGood(id);
    expect(documents.get(id)).toBeUndefined();
    expect(documents.unknown(id)).toBe(
      `There is no progression “${id}” on this device. It may be kept in another browser, or deleted.`,
    );
    const gone = await documents.open(id);
    expect(gone.ok ? '' : gone.error).toBe(documents.unknown(id));
  });

  it('is copied under a name of its own, unless that is no name', async () => {
    const documents = await shelf();
    const { id } = await documents.create(['one', 'two'], 'made');
    const copied = await documents.copy(id);
    expect(copied.ok && documents.get(copied.value.id)).toEqual(['one,', 'copy', 'two']);
    // the original is as it was
    expect(documents.get(id)).toEqual(['one', 'two']);
    expect(await documents.copy('kept-nowhere')).toMatchObject({ ok: false });

    const strict = new Documents<Words>({
      ...words,
      read: (text) => (text.includes('copy') ? refuse([BAD]) : words.read(text)),
    });
    strict.start(storeOfTab());
    await strict.whenReady;
    const { id: long } = await strict.create(['long'], 'made');
    const second = await strict.copy(long);
    expect(second.ok && strict.get(second.value.id)).toEqual(['long']);
  });

  it('is renamed, and it is told why it cannot be called so', async () => {
    const documents = await shelf();
    const { id } = await documents.create(['one', 'two'], 'made');
    expect(await documents.rename(id, 'first')).toBeUndefined();
    expect(documents.get(id)).toEqual(['first', 'two']);
    expect(await documents.rename(id, 'bad')).toBe(
      'The file: found bad; allowed is anything else.',
    );
    expect(documents.get(id)).toEqual(['first', 'two']);
    expect(await documents.rename('kept-nowhere', 'x')).toContain('There is no progression');
  });

  it('that is kept and cannot be read is listed, and told instead of opened', async () => {
    const store = storeOfTab();
    await store.create('kept-x', words.kind, { name: 'broken', text: 'bad', label: 'made' });
    const documents = await shelf(store);
    expect(names(documents)).toEqual(['broken']);
    expect(documents.get('kept-x')).toBeUndefined();
    const sentence =
      '“broken” is kept on this device but cannot be read: The file: found bad; allowed is anything else.';
    expect(documents.unknown('kept-x')).toBe(sentence);
    const open = await documents.open('kept-x');
    expect(open.ok ? '' : open.error).toBe(sentence);
    expect(documents.about('kept-x')?.text).toBe('bad');
  });

  it('of another kind is none of this list', async () => {
    const store = storeOfTab();
    await store.create('kept-s', 'setup', { name: 's', text: 's', label: 'made' });
    const documents = await shelf(store);
    expect(documents.stored).toEqual([]);
    const open = await documents.open('kept-s');
    expect(open.ok ? '' : open.error).toBe(documents.unknown('kept-s'));
  });

  it('is one object however often it is opened', async () => {
    const documents = await shelf();
    const { id } = await documents.create(['one'], 'made');
    const [first, second] = await Promise.all([opened(documents, id), opened(documents, id)]);
    expect(first).toBe(second);
    expect(await opened(documents, id)).toBe(first);
    first.edit(['two'], 'two');
    // before it is written
    expect(documents.get(id)).toEqual(['two']);
  });
});

describe('a device that does not keep', () => {
  it('has new documents in this tab, says why, and keeps them when it can', async () => {
    const disk = new FailingDisk();
    const documents = await shelf(new Store(disk, new TabMessages()));
    disk.failure = 'full';
    const { id, problem } = await documents.create(['one'], 'made');
    expect(problem).toContain('full');
    expect(documents.problem).toBe(problem);
    expect(documents.about(id)?.lasting).toBe(false);
    expect(names(await shelf())).toEqual([]);

    disk.failure = undefined;
    await documents.tryAgain();
    expect(documents.problem).toBeUndefined();
    expect(documents.about(id)?.lasting).toBe(true);
    expect(names(await shelf())).toEqual(['one']);
  });

  it('and does not answer either leaves the list as it was', async () => {
    const disk = new FailingDisk();
    const documents = await shelf(new Store(disk, new TabMessages()));
    await documents.create(['one'], 'made');
    disk.failure = 'blocked';
    document.dispatchEvent(new Event('visibilitychange'));
    await vi.waitFor(() =>
      expect(documents.problem).toContain('does not let the page keep anything'),
    );
    expect(names(documents)).toEqual(['one']);
  });
});

describe('an open document', () => {
  let documents: Documents<Words>;
  let document: OpenDocument<Words>;
  beforeEach(async () => {
    documents = await shelf();
    const { id } = await documents.create(['one', 'two'], 'made');
    document = await opened(documents, id);
  });

  it('says what it is, what was done, and what Undo and Redo would do', async () => {
    expect([document.name, document.value, document.saved]).toEqual(['one', ['one', 'two'], true]);
    expect([document.canUndo, document.canRedo]).toEqual([false, false]);
    document.edit(['one', 'three'], 'three');
    expect([document.value, document.saved]).toEqual([['one', 'three'], false]);
    expect([document.canUndo, document.undoes]).toEqual([true, 'three']);
    document.undo();
    expect(document.value).toEqual(['one', 'two']);
    expect([document.canUndo, document.canRedo, document.redoes]).toEqual([false, true, 'three']);
    document.redo();
    await document.settled();
    expect([document.value, document.saved]).toEqual([['one', 'three'], true]);
    expect(document.past.map(({ label }) => label)).toEqual(['three', 'made']);
  });

  it('takes typing as one step', () => {
    for (const text of ['a', 'ab', 'abc']) document.edit([text], 'notes', { joins: true });
    expect(document.past.map(({ text }) => text)).toEqual(['abc', 'one two']);
  });

  it('takes typing without a pause as one step, however long it goes on', () => {
    vi.useFakeTimers({ toFake: ['Date'] });
    try {
      const typed = (ms: number, text: string, paused?: number): void => {
        vi.setSystemTime(ms);
        document.edit([text], 'notes', {
          joins: true,
          ...(paused === undefined ? {} : { paused }),
        });
      };
      typed(0, 'a');
      // ten seconds of letters, of which the first came a fifth of a second after the first of all
      typed(10_000, 'along', 200);
      expect(document.past.map(({ text }) => text)).toEqual(['along', 'one two']);
      typed(12_000, 'along again', 1900);
      expect(document.past.map(({ text }) => text)).toEqual(['along again', 'along', 'one two']);
    } finally {
      vi.useRealTimers();
    }
  });

  it('gives the faults of what its reader would refuse, and stays', () => {
    expect(document.edit(['bad'], 'bad')).toEqual([BAD]);
    expect(document.rename('bad')).toHaveLength(1);
    expect([document.value, document.canUndo]).toEqual([['one', 'two'], false]);
  });

  it('has named versions, and brings one back as an edit', async () => {
    document.saveVersion('before');
    document.edit(['other'], 'other');
    const [version] = document.versions;
    expect(version?.name).toBe('before');
    document.restore(version?.step ?? 0, 'before');
    expect(document.value).toEqual(['one', 'two']);
    document.undo();
    expect(document.value).toEqual(['other']);
    await document.settled();
  });

  it('follows another tab, and says what that did', async () => {
    const there = await opened(await shelf(), document.id);
    there.edit(['theirs'], 'string 5 to C♯');
    await vi.waitFor(() => expect(document.value).toEqual(['theirs']));
    expect(document.notice).toContain('string 5 to C♯');
    // what is done here next is no news of the other tab
    document.edit(['mine'], 'mine');
    expect(document.notice).toBeUndefined();
  });

  it('asks which stands where another tab changed the same place, and so does the list', async () => {
    const deaf = await shelf(tab({ deaf: true }));
    const there = await opened(deaf, document.id);
    document.edit(['mine'], 'done here');
    await document.settled();
    there.edit(['theirs'], 'done there');
    await there.settled();
    expect(there.asks).toEqual({ label: 'done here', places: [] });
    expect(deaf.asking).toEqual([there]);
    expect(documents.asking).toEqual([]);
    there.settle('theirs');
    expect([there.value, there.asks, deaf.asking]).toEqual([['mine'], undefined, []]);
    there.undo();
    expect(there.value).toEqual(['theirs']);
    await there.settled();
    await vi.waitFor(async () => {
      await document.tryAgain();
      expect(document.value).toEqual(['theirs']);
    });
  });

  it('that is deleted from the list says so, and an edit puts it back', async () => {
    await documents.delete(document.id);
    await vi.waitFor(() => expect(document.deleted).toBe(true));
    document.edit(['again'], 'again');
    await document.settled();
    expect(document.deleted).toBe(false);
    await vi.waitFor(() => expect(names(documents)).toEqual(['again']));
  });

  it('that cannot be kept says why, goes on, and is kept when it is tried again', async () => {
    const disk = new FailingDisk();
    const failing = await shelf(new Store(disk, new TabMessages()));
    const open = await opened(failing, document.id);
    disk.failure = 'full';
    open.edit(['three'], 'three');
    await open.settled();
    expect(open.problem).toContain('full');
    expect([open.value, open.saved]).toEqual([['three'], false]);
    disk.failure = undefined;
    await open.tryAgain();
    expect([open.problem, open.saved]).toEqual([undefined, true]);
    expect((await opened(await shelf(), document.id)).value).toEqual(['three']);
  });
});
