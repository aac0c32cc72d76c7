/** Setup files that are opened, several at once: each gets an answer of its own. */
import { faultText } from '$lib/faults';
import { isEverything } from '$lib/storage/everything';
import { textOf, type OpenedFile } from '$lib/storage/textFile';
import type { Documents } from './documents.svelte';

/** No file is told by more sentences than that. */
const MOST_FAULTS = 20;

/** A file with everything holds histories, and is larger than any document. */
const MOST_EVERYTHING_BYTES = 200_000_000;

export interface FileAnswer {
  readonly number: number;
  readonly file: string;
  /** What has become of it, as a sentence. */
  readonly text: string;
  /** The document that it is now, where it was taken. */
  readonly id?: string;
  readonly faults: readonly string[];
}

export class OpenedFiles<T> {
  readonly #documents: Documents<T>;
  #count = 0;

  /** The latest first. */
  answers = $state.raw<readonly FileAnswer[]>([]);
  busy = $state(false);

  constructor(documents: Documents<T>) {
    this.#documents = documents;
  }

  async open(files: Iterable<OpenedFile>): Promise<void> {
    this.busy = true;
    await this.#documents.whenReady;
    for (const file of files) {
      const answer = { number: ++this.#count, file: file.name, ...(await this.#take(file)) };
      this.answers = [answer, ...this.answers];
    }
    this.busy = false;
  }

  forget(): void {
    this.answers = [];
  }

  async #take(file: OpenedFile): Promise<Omit<FileAnswer, 'number' | 'file'>> {
    const { kind } = this.#documents;
    const all = await textOf(file, MOST_EVERYTHING_BYTES);
    if (all.ok && isEverything(all.value)) {
      const restored = await this.#documents.restore(all.value);
      return restored.ok
        ? { text: restored.value, faults: [] }
        : { text: 'was not opened.', faults: restored.error.slice(0, MOST_FAULTS) };
    }
    const text = await textOf(file);
    const read = text.ok ? kind.read(text.value) : text;
    if (!read.ok) {
      const told = read.error.slice(0, MOST_FAULTS).map(faultText);
      const more = read.error.length - told.length;
      const count = read.error.length === 1 ? 'one fault' : `${read.error.length} faults`;
      return {
        text: `was not opened: it has ${count}. Nothing was changed.`,
        faults: more > 0 ? [...told, `And ${more} more.`] : told,
      };
    }
    const written = kind.write(read.value);
    const same = this.#documents.stored.find(
      ({ value }) => value.ok && kind.write(value.value) === written,
    );
    const name = kind.nameOf(read.value);
    if (same !== undefined)
      return { text: `is “${name}”, which is here already.`, id: same.id, faults: [] };
    const { id, problem } = await this.#documents.create(
      read.value,
      `opened from the file ${file.name}`,
    );
    return {
      text: problem === undefined ? `is kept as “${name}”.` : `is open as “${name}”. ${problem}`,
      id,
      faults: [],
    };
  }
}
