/** Tabs of one browser for the tests: stores that share a database and hear one another. */
import 'fake-indexeddb/auto';
import { IDBFactory } from 'fake-indexeddb';
import { vi } from 'vitest';
import type { DocumentFault } from '$lib/faults';
import { ok, refuse } from '$lib/result';
import { DatabaseDisk } from '$lib/storage/database';
import type { Kind } from '$lib/storage/kind';
import { DocumentSession } from '$lib/storage/documentSession';
import { Store } from '$lib/storage/store';
import { TabMessages } from '$lib/storage/tabMessages';

/** A browser without anything kept in it yet. */
export function freshBrowser(): void {
  vi.stubGlobal('indexedDB', new IDBFactory());
}

export const BAD: DocumentFault = {
  path: '',
  found: 'bad',
  allowed: 'anything else',
  code: 'value.text',
};

/** Documents that are lists of words; a word “bad” cannot be read. */
export const words: Kind<readonly string[]> = {
  kind: 'progression',
  read: (text) => (text.includes('bad') ? refuse([BAD]) : ok(text.split(' '))),
  write: (value) => value.join(' '),
  nameOf: (value) => value[0] ?? '',
  named: (value, name) => [name, ...value.slice(1)],
};

/** `deaf` tabs hear nothing of the others. */
export const tab = ({ deaf = false } = {}): Store =>
  new Store(
    new DatabaseDisk(),
    deaf ? new TabMessages(`deaf ${Math.random()}`) : new TabMessages(),
  );

/** Makes a document, which must be kept. */
export async function makeIn(store: Store, id: string, text: string): Promise<void> {
  const name = text.split(' ')[0] ?? '';
  const { problem } = await store.create(id, words.kind, { name, text, label: 'made' });
  if (problem !== undefined) throw new Error(problem);
}

export async function openIn(
  store: Store,
  id: string,
  now?: () => number,
): Promise<DocumentSession<readonly string[]>> {
  const loaded = await store.load(id);
  if (!loaded.ok || loaded.value === undefined) throw new Error(`${id} is not kept`);
  const opened = DocumentSession.of(store, words, loaded.value, now);
  if (!opened.ok) throw new Error(JSON.stringify(opened.error));
  return opened.value;
}

export const said = (document: DocumentSession<readonly string[]>): string =>
  document.state.value.join(' ');
