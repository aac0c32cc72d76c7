/** Files that are opened: each is answered by itself, before anything under the answers moves. */
import { beforeEach, expect, it, vi } from 'vitest';
import { DatabaseDisk } from '$lib/storage/database';
import type { Disk } from '$lib/storage/disk';
import { Store } from '$lib/storage/store';
import { TabMessages } from '$lib/storage/tabMessages';
import { Documents } from '$lib/ui/shelf/documents.svelte';
import { OpenedFiles } from '$lib/ui/shelf/openedFiles.svelte';
import type { OpenedFile } from '$lib/storage/textFile';
import { words } from '../storage/tabs';
import { newBrowser, storeOfTab } from './tabs';

beforeEach(newBrowser);

const file = (name: string, text: string): OpenedFile => new File([text], name);
async function shelf(store = storeOfTab()): Promise<Documents<readonly string[]>> {
  const documents = new Documents(words);
  documents.start(store);
  await documents.whenReady;
  return documents;
}
const told = ({ answers }: OpenedFiles<readonly string[]>): string[] =>
  answers.map(({ file, text }) => `${file} ${text}`);

/** A device that takes its time to write. */
class SlowDisk extends DatabaseDisk {
  go: () => void = () => undefined;
  readonly #gone = new Promise<void>((go) => (this.go = go));
  override async write(...given: Parameters<Disk['write']>): ReturnType<Disk['write']> {
    await this.#gone;
    return super.write(...given);
  }
}

it('says what becomes of every file before the first of them is on the list', async () => {
  const disk = new SlowDisk();
  const store = new Store(disk, new TabMessages(`alone ${Math.random()}`));
  const documents = await shelf(store);
  const opened = new OpenedFiles(documents);
  const done = opened.open([
    file('one.json', 'one two'),
    file('wrong.json', 'bad'),
    file('three.json', 'three'),
  ]);
  await vi.waitFor(() => expect(documents.stored).toHaveLength(1));
  // the device has taken nothing yet, and there is a row for every file, with its faults
  expect(told(opened)).toEqual([
    'three.json is being kept as “three”.',
    'wrong.json was not opened: it has one fault. Nothing was changed.',
    'one.json is being kept as “one”.',
  ]);
  const rows = opened.answers.map(({ number, faults }) => [number, faults.length]);
  disk.go();
  await done;
  expect(told(opened)).toEqual([
    'three.json is kept as “three”.',
    'wrong.json was not opened: it has one fault. Nothing was changed.',
    'one.json is kept as “one”.',
  ]);
  expect(opened.answers.map(({ number, faults }) => [number, faults.length])).toEqual(rows);
  expect(documents.stored.map(({ name }) => name).sort()).toEqual(['one', 'three']);
  store.messages.close();
});

it('keeps once what comes twice, and leads to it', async () => {
  const documents = await shelf();
  const opened = new OpenedFiles(documents);
  await opened.open([file('a.json', 'one two'), file('b.json', 'one two')]);
  expect(told(opened)).toEqual([
    'b.json is “one”, which is here already.',
    'a.json is kept as “one”.',
  ]);
  const [kept] = documents.stored;
  expect(documents.stored).toHaveLength(1);
  expect(opened.answers.map(({ id }) => id)).toEqual([kept?.id, kept?.id]);
  // what comes later is told first
  await opened.open([file('c.json', 'three')]);
  expect(told(opened)[0]).toBe('c.json is kept as “three”.');
  opened.forget();
  expect(opened.answers).toEqual([]);
});
