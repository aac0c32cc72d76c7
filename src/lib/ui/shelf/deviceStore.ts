/** The one store of this page; made when it is first asked for, which is in the browser. */
import { DatabaseDisk } from '$lib/storage/database';
import { Store } from '$lib/storage/store';
import { TabMessages } from '$lib/storage/tabMessages';

let store: Store | undefined;

export const deviceStore = (): Store =>
  (store ??= new Store(new DatabaseDisk(), new TabMessages()));

const LETTERS = '23456789abcdefghjkmnpqrstuvwxyz';

/** An id that is this document's alone and can stand in an address. */
export function newId(): string {
  const random = crypto.getRandomValues(new Uint8Array(10));
  return `kept-${Array.from(random, (each) => LETTERS[each % LETTERS.length]).join('')}`;
}
