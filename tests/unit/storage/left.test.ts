/** Pages that are left in the middle of a write, and starts that find less than there was. */
import { beforeEach, describe, expect, it, vi } from 'vitest';
import { Documents } from '$lib/ui/shelf/documents.svelte';
import { DatabaseDisk } from '$lib/storage/database';
import { Store } from '$lib/storage/store';
import { TabMessages } from '$lib/storage/tabMessages';
import { FailingDisk, newBrowser } from '../ui/tabs';
import { change } from './records';
import { openIn, said, words } from './tabs';

let page: EventTarget;
beforeEach(() => {
  newBrowser();
  page = new EventTarget();
  vi.stubGlobal('window', page);
  const texts: Record<string, string> = {};
  const calls = {
    getItem: (key: string) => texts[key] ?? null,
    setItem: (key: string, text: string) => void (texts[key] = text),
    removeItem: (key: string) => void Reflect.deleteProperty(texts, key),
  };
  vi.stubGlobal(
    'localStorage',
    new Proxy(texts, {
      get: (_, key) => calls[key as keyof typeof calls] ?? texts[key as string],
    }),
  );
  return () => vi.unstubAllGlobals();
});

type Words = readonly string[];
/** Tabs that hear one another, and none of those that other tests have left open. */
const ownTab = (): Store => new Store(new DatabaseDisk(), new TabMessages('left'));
async function shelf(store = ownTab()): Promise<Documents<Words>> {
  const documents = new Documents(words);
  documents.start(store);
  await documents.whenReady;
  return documents;
}
/** A page whose writes do not end any more. */
async function dying(): Promise<{ documents: Documents<Words>; disk: FailingDisk }> {
  const disk = new FailingDisk();
  const documents = await shelf(new Store(disk, new TabMessages(`gone ${Math.random()}`)));
  return { documents, disk };
}
const opened = async (documents: Documents<Words>, id: string) => {
  const open = await documents.open(id);
  if (!open.ok) throw new Error(open.error);
  return open.value;
};
const leave = (): void => void page.dispatchEvent(new Event('pagehide'));

describe('a page that is left in the middle of a write', () => {
  it('has its edits kept at the next start, each as a step', async () => {
    const { documents, disk } = await dying();
    const { id } = await documents.create(['one'], 'made');
    const document = await opened(documents, id);
    disk.failure = 'full';
    document.edit(['two'], 'two');
    document.edit(['three'], 'three');
    leave();
    const again = await shelf();
    expect(again.get(id)).toEqual(['three']);
    const later = await opened(again, id);
    later.undo();
    expect(later.value).toEqual(['two']);
    // and once is enough
    await later.settled();
    expect((await shelf()).get(id)).toEqual(['two']);
  });

  it('has a document that is new kept at the next start', async () => {
    const { documents, disk } = await dying();
    disk.failure = 'full';
    const begun = documents.begin(['new'], 'made');
    if (!begun.ok) throw new Error(begun.error);
    begun.value.edit(['newer'], 'newer');
    leave();
    const again = await shelf();
    expect(again.stored.map(({ name }) => name)).toEqual(['newer']);
    expect(again.missing.map(({ name }) => name)).not.toContain('newer');
  });

  it.each([1, 2])('has the rest kept, where %i of three steps got through', async (through) => {
    const { documents, disk } = await dying();
    const begun = documents.begin(['new'], 'made');
    if (!begun.ok) throw new Error(begun.error);
    const edits = ['newer', 'newest'].map((word) => () => begun.value.edit([word], word));
    for (const edit of edits.slice(0, through - 1)) edit();
    // what was left holds all of it, for it was laid down before the device had answered
    const write = disk.write.bind(disk);
    let free = (): void => undefined;
    const waits = new Promise<void>((done) => (free = done));
    disk.write = async (...given) => {
      await waits;
      return write(...given);
    };
    for (const edit of edits.slice(through - 1)) edit();
    leave();
    free();
    await begun.value.settled();
    const id = begun.value.id;
    // as if the page had died after the first of it
    await change('steps', (step) => ((step.number as number) > through ? undefined : step));
    await change('entries', (entry) => ({ ...entry, head: through }));
    const later = await opened(await shelf(), id);
    expect(later.value).toEqual(['newest']);
    expect(later.past.map(({ text }) => text)).toEqual(['newest', 'newer', 'new']);
  });

  it('is not forgotten where the next page is left in the middle of it too', async () => {
    const { documents, disk } = await dying();
    const { id } = await documents.create(['one'], 'made');
    const document = await opened(documents, id);
    disk.failure = 'full';
    document.edit(['two'], 'two');
    leave();
    // a start whose write never ends
    const stuck = new FailingDisk();
    stuck.write = () => new Promise(() => undefined);
    new Documents(words).start(new Store(stuck, new TabMessages(`gone ${Math.random()}`)));
    await new Promise((done) => setTimeout(done, 20));
    expect((await shelf()).get(id)).toEqual(['two']);
  });

  it('writes nothing over what another tab has done since', async () => {
    const { documents, disk } = await dying();
    const { id } = await documents.create(['one'], 'made');
    const document = await opened(documents, id);
    disk.failure = 'full';
    document.edit(['mine'], 'mine');
    leave();
    const there = await openIn(ownTab(), id);
    there.edit(['theirs'], 'theirs');
    await there.settled();
    const after = await opened(await shelf(), id);
    const later = await openIn(ownTab(), id);
    const seen = [said(later), ...later.past.map(({ text }) => text)];
    expect(seen).toContain('mine');
    expect(seen).toContain('theirs');
    // what the page that was left could not ask is asked where it is opened next
    expect(after.value).toEqual(['mine']);
    expect(after.asks?.label).toBe('theirs');
    after.settle('theirs');
    expect([after.value, after.asks]).toEqual([['theirs'], undefined]);
    after.undo();
    expect(after.value).toEqual(['mine']);
  });

  it('that comes back goes on by itself', async () => {
    const { documents, disk } = await dying();
    const { id } = await documents.create(['one'], 'made');
    const document = await opened(documents, id);
    disk.failure = 'full';
    document.edit(['two'], 'two');
    await document.settled();
    leave();
    disk.failure = undefined;
    page.dispatchEvent(new Event('pageshow'));
    page.dispatchEvent(new Event('focus'));
    await vi.waitFor(() => expect(document.saved).toBe(true));
    expect(Object.keys(localStorage).filter((key) => key.includes('left'))).toEqual([]);
  });
});

describe('a device that is full', () => {
  it('says so until everything is on it, whatever else is kept meanwhile', async () => {
    const { documents, disk } = await dying();
    disk.failure = 'full';
    const { id, problem } = await documents.create(['one'], 'made');
    expect(problem).toContain('full');
    const document = await opened(documents, id);
    for (const word of ['two', 'three', 'four', 'five']) {
      document.edit([word], word);
      await document.settled();
      expect(documents.problem).toContain('full');
    }
    disk.failure = undefined;
    page.dispatchEvent(new Event('focus'));
    await vi.waitFor(() => expect(documents.problem).toBeUndefined());
    expect((await shelf()).get(id)).toEqual(['five']);
  });
});

describe('a start that finds less than there was', () => {
  it('says what is missing, until that is read', async () => {
    const first = await shelf();
    const { id } = await first.create(['gone'], 'made');
    await first.create(['here'], 'made');
    // tabs that other tests have left open note what they know, too
    const missing = (all: Documents<Words>): boolean =>
      all.missing.some((each) => each.id === id && each.name === 'gone');
    expect(missing(await shelf())).toBe(false);
    await change('entries', (entry) => (entry.id === id ? undefined : entry));
    await change('steps', (step) => (step.document === id ? undefined : step));
    const second = await shelf();
    expect(missing(second)).toBe(true);
    // not read yet
    const third = await shelf();
    expect(missing(third)).toBe(true);
    third.forgetMissing();
    expect(missing(await shelf())).toBe(false);
  });

  it('says nothing of what was deleted, and says what had no room', async () => {
    const { documents, disk } = await dying();
    const { id } = await documents.create(['deleted'], 'made');
    await documents.removeForGood(id);
    disk.failure = 'full';
    await documents.create(['no room'], 'made');
    const names = (await shelf()).missing.map(({ name }) => name);
    expect(names).toContain('no');
    expect(names).not.toContain('deleted');
  });
});
