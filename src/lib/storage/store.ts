/**
 * The documents of this device: one store for the whole page. It never throws at its users: why the
 * device does not take or give something comes back as a sentence.
 */
import { ok, refuse, type Result } from '$lib/result';
import type { Disk, Head, Written } from './disk';
import type { Question } from './rebase';
import type { Damaged } from './recovered';
import {
  changeOf,
  headOf,
  newDocument,
  wholeOf,
  type Change,
  type StoredDocument,
  type Step,
} from './storedDocument';
import type { TabMessages } from './tabMessages';
import { notStoredText, notReadText } from './trouble';
import { Unsaved } from './unsaved';

export interface Listing {
  readonly listed: readonly Head[];
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

/** Asks the browser not to throw away what is kept when it needs room. */
async function askToStay(): Promise<void> {
  try {
    await globalThis.navigator?.storage?.persist?.();
  } catch {
    // then it goes by its own rules
  }
}

export class Store {
  readonly messages: TabMessages;
  readonly unsaved = new Unsaved();
  /** What is to be asked of documents when they are opened, by their ids. */
  readonly questions = new Map<string, Question<unknown>>();
  readonly #disk: Disk;
  readonly #askToStay: () => Promise<void>;
  #asked = false;

  constructor(disk: Disk, messages: TabMessages, ask: () => Promise<void> = askToStay) {
    this.#disk = disk;
    this.messages = messages;
    this.#askToStay = ask;
  }

  /** All documents of a kind that can be read, deleted ones too. */
  async list(kind: string): Promise<Listing> {
    try {
      return { listed: await this.#disk.heads(kind) };
    } catch (error) {
      return { listed: [], problem: notReadText(error) };
    }
  }

  /** What lies on the device and cannot be read; none where the device does not answer. */
  async damaged(): Promise<readonly Damaged[]> {
    try {
      return await this.#disk.damaged();
    } catch {
      // that it does not answer is told where the list is read
      return [];
    }
  }

  async load(id: string): Promise<Result<StoredDocument | undefined, string>> {
    try {
      return ok(await this.#disk.load(id));
    } catch (error) {
      return refuse(notReadText(error));
    }
  }

  /** All documents that can be read, each with its whole history. */
  async everything(): Promise<Result<readonly StoredDocument[], string>> {
    try {
      return ok(await this.#disk.everything());
    } catch (error) {
      return refuse(notReadText(error));
    }
  }

  /** A step and those it was made on, back towards the first. */
  async past(id: string, step: number, most: number): Promise<Result<readonly Step[], string>> {
    try {
      return ok(await this.#disk.past(id, step, most));
    } catch (error) {
      return refuse(notReadText(error));
    }
  }

  /** Makes a document, unless the device does not take it. */
  async create(id: string, kind: string, first: FirstStep): Promise<Created> {
    const stored = newDocument(id, kind, first, Date.now());
    const written = await this.write(0, wholeOf(stored), headOf(stored));
    return { id, ...(written.ok ? {} : { problem: written.error }) };
  }

  /** Writes on top of a revision, if that is still the present one; `step` is shown afterwards. */
  async write(revision: number, change: Change, step: Step): Promise<Result<Written, string>> {
    const { id, kind } = change.entry;
    try {
      const written = await this.#disk.write(revision, change);
      if (!written.done) return ok(written);
      if (!this.#asked) void this.#askToStay();
      this.#asked = true;
      const entry = { ...change.entry, revision: written.revision };
      const news = { kind, on: revision, change: { ...change, entry }, step };
      this.messages.send({ id, revision: written.revision, news });
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
      const change = changeOf(stored, { do: 'delete', at });
      const written = await this.write(stored.entry.revision, change, headOf(stored));
      if (!written.ok) return written.error;
      if (written.value.done) return undefined;
      stored = written.value.now;
    }
    return undefined;
  }

  /** Deletes the letters that earlier programs left in a history; tells whether that is done. */
  async clean(id: string): Promise<boolean> {
    try {
      await this.#disk.clean(id);
      return true;
    } catch {
      // they take room and are no harm
      return false;
    }
  }

  /** Deletes for good, with all that is known of its past. */
  async remove(id: string): Promise<string | undefined> {
    try {
      await this.#disk.remove(id);
      this.messages.send({ id, revision: 0 });
      return undefined;
    } catch (error) {
      return notStoredText(error);
    }
  }
}
