/** Records as they lie in the browser's database, laid down and looked at without the program. */
import { openDB } from 'idb';
import { UPGRADES } from '$lib/storage/openDatabase';

type Records = Readonly<Record<string, unknown>>;

export interface Laid {
  readonly entries?: readonly Records[];
  readonly steps?: readonly Records[];
  readonly versions?: readonly Records[];
}

const database = () =>
  openDB('gripwright', UPGRADES.length, {
    upgrade(opened) {
      for (const upgrade of UPGRADES) upgrade(opened as never);
    },
  });

export async function lay({ entries = [], steps = [], versions = [] }: Laid): Promise<void> {
  const opened = await database();
  const all = { entries, steps, versions };
  const transaction = opened.transaction(Object.keys(all), 'readwrite');
  for (const [name, records] of Object.entries(all))
    for (const each of records) await transaction.objectStore(name).put(each);
  await transaction.done;
  opened.close();
}

/** Changes every record of a kind, or deletes it. */
export async function change(
  name: 'entries' | 'steps' | 'versions',
  to: (record: Record<string, unknown>) => Records | undefined,
): Promise<void> {
  const opened = await database();
  const store = opened.transaction(name, 'readwrite').objectStore(name);
  for (const key of await store.getAllKeys()) {
    const changed = to((await store.get(key)) as Record<string, unknown>);
    if (changed === undefined) await store.delete(key);
    else await store.put(changed);
  }
  opened.close();
}

export async function countOf(name: 'entries' | 'steps' | 'versions'): Promise<number> {
  const opened = await database();
  const count = await opened.count(name);
  opened.close();
  return count;
}
