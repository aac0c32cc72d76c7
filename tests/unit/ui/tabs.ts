/** Tabs of one browser for the tests of states: a shelf each, over one device. */
import { vi } from 'vitest';
import { DatabaseDisk } from '$lib/storage/database';
import type { Disk } from '$lib/storage/disk';
import type { Store } from '$lib/storage/store';
import { Setups } from '$lib/ui/shelf/setups.svelte';
import { freshBrowser, tab } from '../storage/tabs';

const open: Store[] = [];

/** A browser without anything kept in it, and in it a tab that is looked at. */
export function newBrowser(): void {
  while (open.length > 0) open.pop()?.messages.close();
  freshBrowser();
  vi.stubGlobal('document', Object.assign(new EventTarget(), { visibilityState: 'visible' }));
  const texts = new Map<string, string>();
  vi.stubGlobal('sessionStorage', {
    getItem: (key: string) => texts.get(key) ?? null,
    setItem: (key: string, text: string) => void texts.set(key, text),
  });
}

/** What one tab keeps; those that share a browser hear one another. */
export function storeOfTab(): Store {
  const store = tab();
  open.push(store);
  return store;
}

/** The setups as a tab of the browser has them, once it knows what is kept. */
export async function setupsOfTab(store = storeOfTab()): Promise<Setups> {
  const setups = new Setups();
  setups.start(store);
  await setups.whenReady;
  return setups;
}

/** A disk that does not write, or does not answer, as long as it is told to. */
export class FailingDisk extends DatabaseDisk {
  failure: 'full' | 'blocked' | undefined;
  #fail(): void {
    if (this.failure === 'full') throw new DOMException('no room', 'QuotaExceededError');
    if (this.failure === 'blocked') throw new DOMException('denied', 'SecurityError');
  }
  override async write(...given: Parameters<Disk['write']>): ReturnType<Disk['write']> {
    this.#fail();
    return super.write(...given);
  }
  override async heads(kind: string): ReturnType<Disk['heads']> {
    if (this.failure === 'blocked') this.#fail();
    return super.heads(kind);
  }
}
