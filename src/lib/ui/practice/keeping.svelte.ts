/** What was practised on a setup, kept on this device: one document a setup, written at every answer. */
import { refuse } from '$lib/result';
import type { Answers } from '$lib/practice/cards';
import { bothAnswers, withAnswer, withoutAnswer, type Practice } from '$lib/practice/record';
import type { Answered } from '$lib/practice/schedule';
import { practiceKind } from '$lib/storage/practiceKind';
import { Documents } from '$lib/ui/shelf/documents.svelte';
import { keeperHere } from '$lib/ui/shelf/keeperHere';
import type { OpenDocument } from '$lib/ui/shelf/openDocument.svelte';

let shelf: Documents<Practice> | undefined;

/** The one list of the whole visit; called in the browser only. */
export function savedPractice(): Documents<Practice> {
  shelf ??= new Documents(practiceKind);
  shelf.start();
  return shelf;
}

const NONE: Answers = new Map();

export class PracticeKeeping {
  document = $state.raw<OpenDocument<Practice> | undefined>();
  /** What is kept of this setup is known, or cannot be reached. */
  ready = $state(false);
  #problem = $state<string | undefined>();
  #opening = 0;
  #begun: Promise<void> | undefined;
  /** What the setup is called, for a document that is still to be begun. */
  #about = $state.raw<Omit<Practice, 'answers'>>({ setup: '', name: '' });
  /** The label of the step that answers go into: one a round, so that Undo takes back a round. */
  #label = 'answers';
  #joins = false;

  /** What two tabs began for one setup at once is one player's: answers of all of it count. */
  readonly #others: readonly Answers[] = $derived(
    this.ready
      ? savedPractice().stored.flatMap(({ id, value }) =>
          value.ok && value.value.setup === this.#about.setup && id !== this.document?.id
            ? [value.value.answers]
            : [],
        )
      : [],
  );
  readonly answers: Answers = $derived(
    this.#others.reduce(bothAnswers, this.document?.value.answers ?? NONE),
  );
  /** Why something is not saved or not there, as a sentence. */
  readonly trouble = $derived(this.#problem ?? this.document?.problem);

  /** Opens what was practised on a setup; of several the one that was practised last. */
  async open(setup: string, name: string): Promise<void> {
    const number = ++this.#opening;
    this.#about = { setup, name };
    this.document = undefined;
    this.#problem = undefined;
    this.#begun = undefined;
    this.ready = false;
    const all = savedPractice();
    await all.whenReady;
    const kept = all.stored.find(({ value }) => value.ok && value.value.setup === setup);
    const opened = kept === undefined ? undefined : await all.open(kept.id);
    if (number !== this.#opening) return;
    if (opened?.ok) this.document = opened.value;
    else this.#problem = opened?.error ?? all.problem;
    this.ready = true;
  }

  /** From now on answers go into one step, under this label. */
  beginRound(label: string): void {
    this.#label = label;
    this.#joins = false;
  }

  /** Keeps one answer more; what the device does not take is said and tried again. */
  async answer(card: string, answer: Answered): Promise<void> {
    await this.#prepared();
    const { document } = this;
    if (document !== undefined) this.#put(withAnswer(document.value, card, answer));
  }

  /** Adds the answers of a file to those that are here, as one step; gives how many came. */
  async add(more: Answers, file: string): Promise<number> {
    await this.#prepared();
    const { document } = this;
    if (document === undefined) return 0;
    const { value } = document;
    const answers = bothAnswers(value.answers, more);
    const count = (all: Answers): number =>
      [...all.values()].reduce((sum, { length }) => sum + length, 0);
    this.beginRound(`added from ${file}`);
    this.#put({ ...value, answers });
    return count(answers) - count(value.answers);
  }

  /** Takes the last answer of a card back. */
  takeBack(card: string, answer: Answered): void {
    const { document } = this;
    if (document !== undefined) this.#put(withoutAnswer(document.value, card, answer));
  }

  #put(next: Practice): void {
    const joins = this.#joins ? { joins: true, paused: 0 } : {};
    const faults = this.document?.edit(next, this.#label, joins) ?? [];
    this.#joins = true;
    this.#problem =
      faults.length === 0
        ? undefined
        : 'This is too long to be kept on the device; save it as a file.';
  }

  /** There is a document to write into, from the first answer on. */
  async #prepared(): Promise<void> {
    if (this.document !== undefined) return;
    // two answers may come before the first is kept
    this.#begun ??= this.#begin();
    await this.#begun;
  }

  async #begin(): Promise<void> {
    const number = this.#opening;
    const trouble = keeperHere() === undefined ? await savedPractice().prepare() : undefined;
    if (number !== this.#opening) return;
    const begun =
      trouble === undefined
        ? savedPractice().begin({ ...this.#about, answers: NONE }, 'begun')
        : refuse(trouble);
    if (begun.ok) this.document = begun.value;
    else this.#problem = begun.error;
  }
}
