/**
 * A stored document while a page works on it. Usage:
 *
 *     const opened = await setups.open(id);            // a Result; its error is a sentence
 *     if (opened.ok) document = opened.value;          // hold it in `$state.raw`
 *     document.value                                   // the setup; read-only, a new object an edit
 *     document.edit({ ...document.value, frets: 22 }, 'frets to 22')
 *     document.edit(next, 'notes', { joins: true })    // typing: one undo step until a pause
 *     document.undo(); document.redo();                // and canUndo, undoes (the label), …
 *     document.saveVersion('before the new lever'); document.restore(step, name);
 *     document.problem                                 // why it is not saved; show it as an alert
 *     document.notice                                  // what another tab did; `TabNotice` shows it,
 *     document.asks; document.settle('theirs')         // and asks where both changed the same place
 *
 * `edit` counts at once and is written at once. It gives the faults for which the kind's own reader
 * would refuse the text (then nothing has changed), and an empty list where it is taken.
 * There is one object a document for the whole visit: leaving the page needs no farewell.
 */
import type { DocumentFault } from '$lib/faults';
import type { Joins, Step, Version } from '$lib/storage/storedDocument';
import type { DocumentSession } from '$lib/storage/documentSession';
import type { AskedWhich, OpenState } from '$lib/storage/openState';

export class OpenDocument<T> {
  readonly #session: DocumentSession<T>;
  #state: OpenState<T>;

  constructor(session: DocumentSession<T>) {
    this.#session = session;
    this.#state = $state.raw(session.state);
    session.onchange = (state) => {
      this.#state = state;
    };
  }

  get id(): string {
    return this.#session.id;
  }
  get value(): T {
    return this.#state.value;
  }
  get name(): string {
    return this.#state.name;
  }
  get canUndo(): boolean {
    return this.#state.undoes !== undefined;
  }
  get canRedo(): boolean {
    return this.#state.redoes !== undefined;
  }
  /** The label of the edit that Undo takes back. */
  get undoes(): string | undefined {
    return this.#state.undoes;
  }
  get redoes(): string | undefined {
    return this.#state.redoes;
  }
  get versions(): readonly Version[] {
    return this.#state.versions;
  }
  /** Steps from the present one back, as far as they are in hand. */
  get past(): readonly Step[] {
    return this.#state && this.#session.past;
  }
  /** There are steps before those in hand, which `loadPast` fetches. */
  get hasMorePast(): boolean {
    return this.#state && this.#session.hasMorePast;
  }
  /** Everything that was done is on the device. */
  get saved(): boolean {
    return this.#state.saved;
  }
  /** It has been on the device, if not as it is now. */
  get lasting(): boolean {
    return this.#state.lasting;
  }
  /** Milliseconds since 1970. */
  get changed(): number {
    return this.#state.changed;
  }
  /** It was deleted from the shelf; an edit puts it back. */
  get deleted(): boolean {
    return this.#state.deleted;
  }
  get problem(): string | undefined {
    return this.#state.problem;
  }
  get notice(): string | undefined {
    return this.#state.notice;
  }

  /** Which of two readings is to stand, where another tab changed the same place. */
  get asks(): AskedWhich | undefined {
    return this.#state.asks;
  }

  edit(
    next: T,
    label: string,
    { joins = false, paused }: { readonly joins?: Joins; readonly paused?: number } = {},
  ): readonly DocumentFault[] {
    return this.#session.edit(next, label, joins, paused);
  }
  rename(name: string): readonly DocumentFault[] {
    return this.#session.rename(name);
  }
  undo(): void {
    this.#session.undo();
  }
  redo(): void {
    this.#session.redo();
  }
  loadPast(): Promise<void> {
    return this.#session.loadPast();
  }
  setDeleted(deleted: boolean): void {
    this.#session.setDeleted(deleted);
  }
  /** It is gone for good: nothing of it is written any more. */
  close(): void {
    this.#session.close();
  }
  saveVersion(name: string): void {
    this.#session.saveVersion(name);
  }
  /** Brings back a step of the past, under the name that it is told by. */
  restore(step: number, name: string): readonly DocumentFault[] {
    return this.#session.restore(step, name);
  }
  /** Answers what it asks: this tab's reading is to stand, or the other one. Both stay versions. */
  settle(which: 'mine' | 'theirs'): void {
    this.#session.settle(which);
  }
  /** Tries again to keep what could not be saved. */
  tryAgain(): Promise<void> {
    return this.#session.tryAgain();
  }
  /** Waits until all is written, or cannot be. */
  settled(): Promise<void> {
    return this.#session.settled();
  }
}
