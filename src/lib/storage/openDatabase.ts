/** The browser's database: its tables, what brings an older one up to date, and how it is opened. */
import { openDB, type DBSchema, type IDBPDatabase } from 'idb';
import { StorageTrouble } from './trouble';
import type { Entry, Step, Version } from './storedDocument';

interface Of {
  readonly document: string;
}

/** What lies in it, by the name of each table. */
export interface Tables extends DBSchema {
  entries: { key: string; value: Entry; indexes: { kind: string } };
  steps: { key: [string, number]; value: Step & Of };
  versions: { key: [string, number]; value: Version & Of };
}

/** The open database. */
export type Database = IDBPDatabase<Tables>;

/**
 * One step for every version of the database, each from the one before; a new version is a new step
 * at the end, and the steps that are here stay as they are.
 */
export type Upgrade = (database: Database) => void;
export const UPGRADES: readonly Upgrade[] = [
  (database) => {
    database.createObjectStore('entries', { keyPath: 'id' }).createIndex('kind', 'kind');
    database.createObjectStore('steps', { keyPath: ['document', 'number'] });
    database.createObjectStore('versions', { keyPath: ['document', 'number'] });
  },
];

/** A browser that has not opened a database by then will not. */
const OPENING_MS = 6000;

/**
 * Opens the database, brought up to date; fails with a `StorageTrouble` where another tab holds an older one
 * open, or the browser does not answer.
 *
 * @param onclosed the browser, or another tab's newer program, has shut it
 */
export async function openDatabase(
  name: string,
  upgrades: readonly Upgrade[],
  onclosed: () => void,
): Promise<Database> {
  let refuse: (reason: StorageTrouble) => void = () => undefined;
  const refused = new Promise<never>((_, reject) => (refuse = reject));
  const patience = setTimeout(() => refuse(new StorageTrouble('silent')), OPENING_MS);
  let late = false;
  const opening = openDB<Tables>(name, upgrades.length, {
    upgrade(database, from) {
      for (const upgrade of upgrades.slice(from)) upgrade(database);
    },
    // another tab has an older version open and does not let go of it
    blocked: () => refuse(new StorageTrouble('held')),
    // another tab wants to upgrade: let it, and say so at the next write
    blocking: (_from, _to, event) => {
      (event.target as IDBDatabase).close();
      onclosed();
    },
    terminated: onclosed,
  });
  opening.then(
    (database) => {
      if (late) database.close();
    },
    () => undefined,
  );
  try {
    return await Promise.race([opening, refused]);
  } catch (error) {
    late = true;
    throw error;
  } finally {
    clearTimeout(patience);
  }
}
