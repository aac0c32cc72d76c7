/** The one store of this page; made when it is first asked for, which is in the browser. */
import { DatabaseDisk } from '$lib/storage/database';
import { Store } from '$lib/storage/store';
import { TabMessages } from '$lib/storage/tabMessages';

let store: Store | undefined;

export const deviceStore = (): Store =>
  (store ??= new Store(new DatabaseDisk(), new TabMessages()));
