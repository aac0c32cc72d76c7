/**
 * The browser's database as a `Disk`. One transaction a write: the revision is looked at and the
 * records are put within it, so that two tabs can never overwrite one another unseen.
 */
import { openDB, type DBSchema, type IDBPDatabase } from 'idb';
import { nextRevision, type Disk, type Head, type Written } from './disk';
import { StorageTrouble } from './trouble';
import type { Change, Entry, StoredDocument, Step, Version } from './storedDocument';

interface Of {
  readonly document: string;
}

interface Tables extends DBSchema {
  entries: { key: string; value: Entry; indexes: { kind: string } };
  steps: { key: [string, number]; value: Step & Of };
  versions: { key: [string, number]; value: Version & Of };
}

type Database = IDBPDatabase<Tables>;

/**
 * One step for every version of the database, each from the one before; a new version is a new step
 * at the end, and the steps that are here stay as they are.
 */
export type Upgrade = (database: IDBPDatabase<Tables>) => void;
export const UPGRADES: readonly Upgrade[] = [
  (database) => {
    database.createObjectStore('entries', { keyPath: 'id' }).createIndex('kind', 'kind');
    database.createObjectStore('steps', { keyPath: ['document', 'number'] });
    database.createObjectStore('versions', { keyPath: ['document', 'number'] });
  },
];

/** A browser that has not opened a database by then will not. */
const OPENING_MS = 6000;

/** All records of a document: numbers follow its id. */
const allOf = (id: string): IDBKeyRange => IDBKeyRange.bound([id, 0], [id, Infinity]);

const withoutDocument = <T extends Of>({ document: _, ...rest }: T): Omit<T, 'document'> => rest;

export class DatabaseDisk implements Disk {
  readonly lasting = true;
  readonly #open: () => Promise<Database>;
  #database: Promise<Database> | undefined;

  constructor(name = 'gripwright', upgrades: readonly Upgrade[] = UPGRADES) {
    this.#open = () => open(name, upgrades, () => (this.#database = undefined));
  }

  /** The open database; one that failed or was shut by the browser is opened anew. */
  async #opened(): Promise<Database> {
    this.#database ??= this.#open();
    try {
      return await this.#database;
    } catch (error) {
      this.#database = undefined;
      throw error;
    }
  }

  async heads(kind: string): Promise<Head[]> {
    const transaction = (await this.#opened()).transaction(['entries', 'steps']);
    const entries = await transaction.objectStore('entries').index('kind').getAll(kind);
    const steps = await Promise.all(
      entries.map(({ id, head }) => transaction.objectStore('steps').get([id, head])),
    );
    return entries.flatMap((entry, index) => {
      const step = steps[index];
      return step === undefined ? [] : [{ entry, step: withoutDocument(step) }];
    });
  }

  async load(id: string): Promise<StoredDocument | undefined> {
    const transaction = (await this.#opened()).transaction(['entries', 'steps', 'versions']);
    const [entry, steps, versions] = await Promise.all([
      transaction.objectStore('entries').get(id),
      transaction.objectStore('steps').getAll(allOf(id)),
      transaction.objectStore('versions').getAll(allOf(id)),
    ]);
    return (
      entry && {
        entry,
        steps: steps.map(withoutDocument),
        versions: versions.map(withoutDocument),
      }
    );
  }

  async write(revision: number, change: Change): Promise<Written> {
    const { id } = change.entry;
    const transaction = (await this.#opened()).transaction(
      ['entries', 'steps', 'versions'],
      'readwrite',
    );
    // the first failure is told; this one follows from it
    transaction.done.catch(() => undefined);
    const entries = transaction.objectStore('entries');
    const now = await entries.get(id);
    if ((now?.revision ?? 0) !== revision) {
      await transaction.done;
      return { done: false, now: await this.load(id) };
    }
    const next = nextRevision(revision, change);
    await Promise.all([
      entries.put({ ...change.entry, revision: next }),
      ...change.steps.map((step) =>
        // `add` refuses a number that is taken: a step is never overwritten
        transaction.objectStore('steps').add({ document: id, ...step }),
      ),
      ...change.versions.map((version) =>
        transaction.objectStore('versions').add({ document: id, ...version }),
      ),
      transaction.done,
    ]);
    return { done: true, revision: next };
  }

  async remove(id: string): Promise<void> {
    const transaction = (await this.#opened()).transaction(
      ['entries', 'steps', 'versions'],
      'readwrite',
    );
    await Promise.all([
      transaction.objectStore('entries').delete(id),
      transaction.objectStore('steps').delete(allOf(id)),
      transaction.objectStore('versions').delete(allOf(id)),
      transaction.done,
    ]);
  }
}

async function open(
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
