/**
 * The documents of this device: one store for the whole page. It never throws at its users: what the
 * device does not take is kept in memory for the visit, and the reason comes back as a sentence.
 */
import { ok, refuse, type Result } from '$lib/result';
import { MemoryDisk, type Disk, type Head, type Written } from './disk';
import { newDocument, type Change, type StoredDocument } from './storedDocument';
import type { TabMessages } from './tabMessages';
import { notStoredText, notReadText } from './trouble';

/** The entry of a document and its text, as lists need them. */
export interface Listed extends Head {
  /** It is kept on the device, and not only in memory. */
  readonly lasting: boolean;
}

export interface Listing {
  readonly listed: readonly Listed[];
  readonly problem?: string;
}

/** What a document begins with. */
export interface FirstStep {
  readonly name: string;
  readonly text: string;
  /** How it came: “made from E9”. */
  readonly label: string;
}

export interface Created {
  readonly id: string;
  readonly problem?: string;
}

export class Store {
  readonly messages: TabMessages;
  readonly #disk: Disk;
  readonly #memory = new MemoryDisk();

  constructor(disk: Disk, messages: TabMessages) {
    this.#disk = disk;
    this.messages = messages;
  }

  #diskOf(id: string): Disk {
    return this.#memory.has(id) ? this.#memory : this.#disk;
  }

  /** All documents of a kind, deleted ones too. */
  async list(kind: string): Promise<Listing> {
    const inMemory = (await this.#memory.heads(kind)).map((head) => ({ ...head, lasting: false }));
    try {
      const { lasting } = this.#disk;
      const onDisk = await this.#disk.heads(kind);
      return { listed: [...onDisk.map((head) => ({ ...head, lasting })), ...inMemory] };
    } catch (error) {
      return { listed: inMemory, problem: notReadText(error) };
    }
  }

  async load(id: string): Promise<Result<StoredDocument | undefined, string>> {
    try {
      return ok(await this.#diskOf(id).load(id));
    } catch (error) {
      return refuse(notReadText(error));
    }
  }

  /** Makes a document; there is one afterwards in any case, if need be for this visit only. */
  async create(id: string, kind: string, first: FirstStep): Promise<Created> {
    const stored = newDocument(id, kind, first, Date.now());
    let problem: string | undefined;
    try {
      await this.#disk.write(0, stored);
    } catch (error) {
      problem = notStoredText(error);
      await this.#memory.write(0, stored);
    }
    this.messages.send({ id, revision: 1 });
    return { id, ...(problem === undefined ? {} : { problem }) };
  }

  /** Writes on top of a revision, if that is still the present one. */
  async write(revision: number, change: Change): Promise<Result<Written, string>> {
    const { id } = change.entry;
    try {
      const written = await this.#diskOf(id).write(revision, change);
      if (written.done) this.messages.send({ id, revision: written.revision });
      return ok(written);
    } catch (error) {
      return refuse(notStoredText(error));
    }
  }

  /** Takes a document from the list (with the time) or puts it back (without). */
  async setDeleted(id: string, at: number | undefined): Promise<string | undefined> {
    const loaded = await this.load(id);
    if (!loaded.ok) return loaded.error;
    let stored = loaded.value;
    while (stored !== undefined) {
      const { deleted: _, ...entry } = stored.entry;
      const written = await this.write(entry.revision, {
        entry: at === undefined ? entry : { ...entry, deleted: at },
        steps: [],
        versions: [],
      });
      if (!written.ok) return written.error;
      if (written.value.done) return undefined;
      stored = written.value.now;
    }
    return undefined;
  }

  /** Deletes for good, with all that is known of its past. */
  async remove(id: string): Promise<string | undefined> {
    try {
      await this.#diskOf(id).remove(id);
      this.messages.send({ id, revision: 0 });
      return undefined;
    } catch (error) {
      return notStoredText(error);
    }
  }

  /** Tries to store what is only in memory so far; tells why that fails. */
  async storeAgain(): Promise<string | undefined> {
    for (const stored of this.#memory.all)
      try {
        const written = await this.#disk.write(0, stored);
        if (!written.done) continue;
        const { id } = stored.entry;
        await this.#memory.remove(id);
        this.messages.send({ id, revision: written.revision });
      } catch (error) {
        return notStoredText(error);
      }
    return undefined;
  }
}
