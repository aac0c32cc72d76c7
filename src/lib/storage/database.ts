/**
 * The browser's database as a `Disk`. One transaction a write: the revision is looked at and the
 * records are put within it, so that two tabs can never overwrite one another unseen.
 */
import type { IDBPTransaction } from 'idb';
import { nextRevision, type Disk, type Head, type Written } from './disk';
import { isLetterBefore } from './letters';
import { UPGRADES, openDatabase, type Database, type Tables, type Upgrade } from './openDatabase';
import { damagedOf, lossOf, recovered, revisionOf, stepIn, type Damaged } from './recovered';
import type { Change, Entry, StoredDocument, Step } from './storedDocument';

/** How many of the newest steps are read when a document is opened. */
const NEWEST = 256;
/** How much of the past of the head is read with it, where that is older. */
const NEAR = 32;
/** How many steps are looked at in one go when letters are deleted. */
const AT_ONCE = 500;

/** All records of a document: numbers follow its id. */
const allOf = (id: string): IDBKeyRange => IDBKeyRange.bound([id, 0], [id, Infinity]);
const between = (id: string, from: number, to: number): IDBKeyRange =>
  IDBKeyRange.bound([id, from], [id, to]);
/** No step has a higher number. */
const LAST = Number.MAX_SAFE_INTEGER;

type Reading = IDBPTransaction<Tables, ('entries' | 'steps' | 'versions')[]>;

export class DatabaseDisk implements Disk {
  readonly #open: () => Promise<Database>;
  #database: Promise<Database> | undefined;

  constructor(name = 'gripwright', upgrades: readonly Upgrade[] = UPGRADES) {
    this.#open = () => openDatabase(name, upgrades, () => (this.#database = undefined));
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

  async #reading(): Promise<Reading> {
    return (await this.#opened()).transaction(['entries', 'steps', 'versions']);
  }

  async heads(kind: string): Promise<Head[]> {
    const transaction = await this.#reading();
    const entries = await transaction.objectStore('entries').index('kind').getAll(kind);
    const heads = await Promise.all(entries.map((entry) => headIn(transaction, entry)));
    return heads.flatMap((head) => head ?? []);
  }

  async damaged(): Promise<Damaged[]> {
    const transaction = await this.#reading();
    const entries = await transaction.objectStore('entries').getAll();
    const ids = new Set(entries.map(({ id }) => id));
    for (const id of await documentsWithSteps(transaction)) ids.add(id);
    const whole = new Set<string>();
    for (const entry of entries)
      if (typeof entry.kind === 'string' && (await headIn(transaction, entry))) whole.add(entry.id);
    const lost: Damaged[] = [];
    for (const id of ids)
      if (!whole.has(id))
        lost.push(
          damagedOf({
            id,
            entry: entries.find((entry) => entry.id === id),
            steps: await transaction.objectStore('steps').getAll(allOf(id)),
            versions: await transaction.objectStore('versions').getAll(allOf(id)),
          }),
        );
    return lost;
  }

  async load(id: string): Promise<StoredDocument | undefined> {
    return loadedIn(await this.#reading(), id);
  }

  async everything(): Promise<StoredDocument[]> {
    const transaction = await this.#reading();
    const all: StoredDocument[] = [];
    for (const entry of await transaction.objectStore('entries').getAll()) {
      const { id } = entry;
      const steps = await transaction.objectStore('steps').getAll(allOf(id));
      const versions = await transaction.objectStore('versions').getAll(allOf(id));
      const stored = recovered({ id, entry, steps, versions });
      if (stored !== undefined) all.push(stored);
    }
    return all;
  }

  async past(id: string, step: number, most: number): Promise<Step[]> {
    return pastIn(await this.#reading(), id, step, most);
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
    if (revisionOf(now) !== revision) {
      await transaction.done;
      return { done: false, now: await this.load(id) };
    }
    const next = nextRevision(revision, change);
    const puts: Promise<unknown>[] = [];
    const put = (request: Promise<unknown>): void => {
      // the failure of the whole is told below, once
      request.catch(() => undefined);
      puts.push(request);
    };
    try {
      put(entries.put({ ...change.entry, revision: next }));
      const steps = transaction.objectStore('steps');
      for (const step of change.steps)
        // `add` refuses a number that is taken: only what is being typed is written over
        put(steps[change.joined.includes(step.number) ? 'put' : 'add']({ document: id, ...step }));
      const versions = transaction.objectStore('versions');
      for (const version of change.versions) put(versions.add({ document: id, ...version }));
      await Promise.all([...puts, transaction.done]);
    } catch (error) {
      // what was put before the failure would be kept without the rest
      abort(transaction);
      throw error;
    }
    return { done: true, revision: next };
  }

  async clean(id: string): Promise<void> {
    const database = await this.#opened();
    const followed = new Set<number>();
    let later: Step | undefined;
    for (let from = LAST; from > 0;) {
      const transaction = database.transaction(['entries', 'steps', 'versions'], 'readwrite');
      const { head } = (await transaction.objectStore('entries').get(id)) ?? {};
      const versions = await transaction.objectStore('versions').getAll(allOf(id));
      const last = await transaction
        .objectStore('steps')
        .openKeyCursor(between(id, 0, from), 'prev');
      if (last === null || head === undefined) return;
      const to = last.key[1];
      from = to - AT_ONCE;
      const steps = await transaction.objectStore('steps').getAll(between(id, from + 1, to));
      for (const raw of steps.reverse()) {
        const step = stepIn(raw);
        if (step === undefined) continue;
        const bound =
          step.number === head ||
          followed.has(step.number) ||
          versions.some((version) => version.step === step.number);
        if (!bound && later !== undefined && isLetterBefore(later, step))
          await transaction.objectStore('steps').delete([id, step.number]);
        else followed.add(step.after);
        later = step;
      }
      await transaction.done;
    }
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

function abort(transaction: { abort(): void }): void {
  try {
    transaction.abort();
  } catch {
    // it has ended by itself
  }
}

/** The ids that steps are kept under, by one look each. */
async function documentsWithSteps(transaction: Reading): Promise<string[]> {
  const ids: string[] = [];
  let cursor = await transaction.objectStore('steps').openKeyCursor();
  while (cursor !== null) {
    const [id, number] = cursor.key;
    ids.push(id);
    cursor = await (number < Infinity ? cursor.continue([id, Infinity]) : cursor.continue());
  }
  return ids;
}

/** The head of a document; where it says none that is there, the nearest that can be read. */
async function headIn(transaction: Reading, entry: Entry): Promise<Head | undefined> {
  const { id, head } = entry;
  const raw = Number.isSafeInteger(head)
    ? await transaction.objectStore('steps').get([id, head])
    : undefined;
  const stored = recovered({ id, entry, steps: raw === undefined ? [] : [raw], versions: [] });
  const whole = stored ?? (await loadedIn(transaction, id));
  const step = whole?.steps.find(({ number }) => number === whole.entry.head);
  return whole && step && { entry: whole.entry, step };
}

async function loadedIn(transaction: Reading, id: string): Promise<StoredDocument | undefined> {
  const [entry, versions, last] = await Promise.all([
    transaction.objectStore('entries').get(id),
    transaction.objectStore('versions').getAll(allOf(id)),
    transaction.objectStore('steps').openKeyCursor(between(id, 0, LAST), 'prev'),
  ]);
  if (entry === undefined || last === null) return undefined;
  const since = Math.max(0, last.key[1] - NEWEST + 1);
  const steps = new Map<number, unknown>();
  const take = (more: readonly { readonly number: number }[]): void => {
    for (const step of more) steps.set(step.number, step);
  };
  const all = transaction.objectStore('steps');
  take(await all.getAll(between(id, since, LAST)));
  const head = Number.isSafeInteger(entry.head) ? entry.head : last.key[1];
  // what Redo leads to is made after the head, most often right after it
  if (head < since) take(await all.getAll(between(id, head, Math.min(since, head + NEWEST))));
  let [back, near] = [head, NEAR];
  for (let step; near > 0 && (step = stepIn(steps.get(back))); near--) back = step.after;
  take(await pastIn(transaction, id, back, near));
  const named = versions.filter(({ step }) => Number.isSafeInteger(step) && !steps.has(step));
  for (const found of await Promise.all(named.map(({ step }) => pastIn(transaction, id, step, 1))))
    take(found);
  const known =
    recovered({ id, entry, steps: [...steps.values()], versions }) ??
    // none of these can be read; an older one may be
    recovered({ id, entry, steps: await all.getAll(allOf(id)), versions });
  const lost = known && lossOf(known, entry.head, NEAR);
  return known === undefined || lost === undefined ? known : { ...known, lost };
}

async function pastIn(
  transaction: Reading,
  id: string,
  from: number,
  most: number,
): Promise<Step[]> {
  const past: Step[] = [];
  const steps = transaction.objectStore('steps');
  for (let number = from; number > 0 && past.length < most;) {
    const cursor = await steps.openCursor(between(id, 0, number), 'prev');
    if (cursor === null) break;
    const step = stepIn(cursor.value);
    if (step !== undefined) past.push(step);
    number = step?.after ?? cursor.key[1] - 1;
  }
  return past;
}
