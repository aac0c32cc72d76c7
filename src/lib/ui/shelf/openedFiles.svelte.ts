/** Setup files that are opened, several at once: each gets an answer of its own. */
import { faultText, type DocumentFault } from '$lib/faults';
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
  /** A document is on its way. */
  readonly coming?: boolean;
  readonly faults: readonly string[];
}

type Became = Omit<FileAnswer, 'number' | 'file'>;

/** What a file holds. */
type Looked<T> =
  | { readonly value: T }
  | { readonly everything: string }
  | { readonly faults: readonly DocumentFault[] };

export class OpenedFiles<T> {
  readonly #documents: Documents<T>;
  #count = 0;

  /** The latest first. */
  answers = $state.raw<readonly FileAnswer[]>([]);
  busy = $state(false);

  constructor(documents: Documents<T>) {
    this.#documents = documents;
  }

  /**
   * All are read before the first is kept, and every answer stands before there is a document more: what
   * stands under the answers would move once more else, under a press that was on its way.
   */
  async open(files: Iterable<OpenedFile>): Promise<void> {
    this.busy = true;
    await this.#documents.whenReady;
    const looked: (readonly [FileAnswer, Looked<T>])[] = [];
    for (const file of files) {
      const look = await this.#look(file);
      const answer = { number: ++this.#count, file: file.name, ...this.#atFirst(look) };
      looked.push([answer, look]);
    }
    this.answers = [...looked.map(([answer]) => answer).reverse(), ...this.answers];
    for (const [{ number, file }, look] of looked) {
      const became = await this.#take(look, file);
      this.answers = this.answers.map((answer) =>
        answer.number === number ? { number, file, ...became } : answer,
      );
    }
    this.busy = false;
  }

  forget(): void {
    this.answers = [];
  }

  async #look(file: OpenedFile): Promise<Looked<T>> {
    const all = await textOf(file, MOST_EVERYTHING_BYTES);
    if (all.ok && isEverything(all.value)) return { everything: all.value };
    const text = await textOf(file);
    const read = text.ok ? this.#documents.kind.read(text.value) : text;
    return read.ok ? { value: read.value } : { faults: read.error };
  }

  /** What is said as long as nothing has become of it. */
  #atFirst(look: Looked<T>): Became {
    if ('faults' in look) return refused(look.faults);
    const text =
      'value' in look
        ? `is being kept as “${this.#documents.kind.nameOf(look.value)}”.`
        : 'is being restored.';
    return { text, coming: 'value' in look, faults: [] };
  }

  async #take(look: Looked<T>, file: string): Promise<Became> {
    if ('faults' in look) return refused(look.faults);
    if ('everything' in look) {
      const restored = await this.#documents.restore(look.everything);
      return restored.ok
        ? { text: restored.value, faults: [] }
        : { text: 'was not opened.', faults: restored.error.slice(0, MOST_FAULTS) };
    }
    const { kind } = this.#documents;
    const written = kind.write(look.value);
    const same = this.#documents.stored.find(
      ({ value }) => value.ok && kind.write(value.value) === written,
    );
    const name = kind.nameOf(look.value);
    if (same !== undefined)
      return { text: `is “${name}”, which is here already.`, id: same.id, faults: [] };
    const label = `opened from the file ${file}`;
    const { id, problem } = await this.#documents.create(look.value, label);
    return {
      text: problem === undefined ? `is kept as “${name}”.` : `is open as “${name}”. ${problem}`,
      id,
      faults: [],
    };
  }
}

function refused(faults: readonly DocumentFault[]): Became {
  const told = faults.slice(0, MOST_FAULTS).map(faultText);
  const more = faults.length - told.length;
  const count = faults.length === 1 ? 'one fault' : `${faults.length} faults`;
  return {
    text: `was not opened: it has ${count}. Nothing was changed.`,
    faults: more > 0 ? [...told, `And ${more} more.`] : told,
  };
}
