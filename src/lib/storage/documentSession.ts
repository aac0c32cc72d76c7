/**
 * One document while it is open. An edit counts at once and is written at once, without a pause to wait
 * for (`writing.ts`).
 */
import { refuse, ok, type Result } from '$lib/result';
import type { Kind } from './kind';
import type { OpenState } from './openState';
import { hasMorePast, morePast, runsOut } from './past';
import { LOST, isOfNewerFormat, lastReadable, type Unread } from './readable';
import { merged, placesNow, type Question } from './rebase';
import type { Store } from './store';
import {
  undoStep,
  redoStep,
  headOf,
  newDocument,
  pastOf,
  stepAt,
  type Joins,
  type StoredDocument,
  type Step,
} from './storedDocument';
import { Writing } from './writing';

export class DocumentSession<T> {
  readonly id: string;
  readonly #store: Store;
  readonly #kind: Kind<T>;
  readonly #now: () => number;
  readonly #writing: Writing<T>;
  #fetching: Promise<void> | undefined;
  state: OpenState<T>;
  onchange: (state: OpenState<T>) => void = () => undefined;

  private constructor(
    store: Store,
    kind: Kind<T>,
    stored: StoredDocument,
    value: T,
    now: () => number,
  ) {
    this.id = stored.entry.id;
    this.#store = store;
    this.#kind = kind;
    this.#now = now;
    this.#writing = new Writing(store, kind, stored, value, now);
    this.state = this.#look();
    this.#writing.ontell = () => this.#tell();
  }

  /**
   * Opens what is kept. Where the newest step is damaged, it is the last one that can be read; what
   * cannot be read at all, or was written by a newer program, is refused and left as it is.
   */
  static of<T>(
    store: Store,
    kind: Kind<T>,
    stored: StoredDocument,
    now: () => number = Date.now,
  ): Result<DocumentSession<T>, Unread> {
    const read = kind.read(headOf(stored).text);
    if (read.ok) {
      const session = new DocumentSession(store, kind, stored, read.value, now);
      session.#askWhatWasLeft();
      if (stored.lost !== undefined) session.#say(LOST[stored.lost]);
      return ok(session);
    }
    // of a newer format it is whole, and none of this program's business
    const last = read.error.some(isOfNewerFormat) ? undefined : lastReadable(kind, stored);
    if (last === undefined) return refuse(read.error);
    const { number: head, name } = last.step;
    const entry = { ...stored.entry, head, name };
    const session = new DocumentSession(store, kind, { ...stored, entry }, last.value, now);
    session.#say(
      'The newest step of this cannot be read any more. What you see is the last one that can; the history is kept as it is.',
    );
    return ok(session);
  }

  /** Begins a document: it takes edits at once, and is written as soon as the device takes it. */
  static begin<T>(
    store: Store,
    kind: Kind<T>,
    id: string,
    value: T,
    label: string,
    now: () => number = Date.now,
  ): Result<DocumentSession<T>, Unread> {
    const text = kind.write(value);
    const read = kind.isRead?.(value) === true ? ok(value) : kind.read(text);
    if (!read.ok) return refuse(read.error);
    const stored = newDocument(id, kind.kind, { name: kind.nameOf(value), text, label }, now());
    const session = new DocumentSession(store, kind, stored, read.value, now);
    session.#writing.begin();
    return ok(session);
  }

  get #stored(): StoredDocument {
    return this.#writing.stored;
  }

  /**
   * Takes an edit over. What the kind's own reader would refuse is not taken, and its faults are told.
   * With `joins` an edit is one step with those of the same label right before it
   * (typing); `paused` says how many milliseconds nothing was typed, where that is less than since that step.
   */
  edit(next: T, label: string, joins: Joins = false, paused?: number): Unread {
    const text = this.#kind.write(next);
    if (text === headOf(this.#stored).text) return [];
    const read = this.#kind.isRead?.(next) === true ? ok(next) : this.#kind.read(text);
    if (!read.ok) return read.error;
    const name = this.#kind.nameOf(next);
    this.#writing.notice = undefined;
    const since = paused === undefined ? {} : { paused };
    this.#writing.do({ do: 'edit', text, name, label, joins, at: this.#now(), ...since }, next);
    return [];
  }

  /** Steps from the present one back, as far as they are in hand; `loadPast` brings more. */
  get past(): readonly Step[] {
    return pastOf(this.#stored);
  }

  /** There are steps before those in hand. */
  get hasMorePast(): boolean {
    return hasMorePast(this.#stored);
  }

  /** Fetches more of the past, if there is more; at once where it is in hand. */
  loadPast(): Promise<void> {
    if (!this.hasMorePast) return Promise.resolve();
    this.#fetching ??= this.#fetchPast().finally(() => (this.#fetching = undefined));
    return this.#fetching;
  }

  async #fetchPast(): Promise<void> {
    const more = await morePast(this.#store, () => this.#stored);
    if (more.ok) this.#writing.hold(more.value);
    else {
      this.#writing.problem = more.error;
      this.#tell();
    }
  }

  rename(name: string): Unread {
    return this.edit(this.#kind.named(this.#writing.value, name), `name “${name}”`);
  }

  undo(): void {
    const step = undoStep(this.#stored);
    if (step !== undefined) this.#show(step);
    else if (headOf(this.#stored).after !== 0)
      void this.loadPast().then(() => this.#show(undoStep(this.#stored)));
    if (runsOut(this.#stored)) void this.loadPast();
  }

  redo(): void {
    this.#show(redoStep(this.#stored));
  }

  /** Gives the present step a name under which it can be found. */
  saveVersion(name: string): void {
    this.#writing.do({ do: 'version', step: this.#stored.entry.head, name, at: this.#now() });
  }

  /** Brings an earlier step back, as an edit of its own, so that Undo leads to where one was. */
  restore(step: number, name: string): Unread {
    const text = stepAt(this.#stored, step)?.text;
    if (text === undefined) throw new Error(`step ${step} is not in hand`);
    const read = this.#kind.read(text);
    if (!read.ok) return read.error;
    this.#writing.question = undefined;
    return this.edit(read.value, `back to ${name}`);
  }

  /**
   * Answers which of two readings is to stand where another tab changed the same place: the one of this tab,
   * or the other. What was done in other places stays, and so do both versions; Undo takes the answer back.
   */
  settle(which: 'mine' | 'theirs'): void {
    const { question } = this.#writing;
    if (question === undefined) return;
    this.#writing.question = undefined;
    const { mine, theirs, label, overtaken } = question;
    // what was done here stands by itself, unless somebody has gone over it since
    if (which === 'theirs') this.#bring(theirs, mine, `as the other tab has it (${label})`);
    else if (overtaken) this.#bring(mine, theirs, 'as this tab had it');
    this.#tell();
  }

  /** Puts one of two readings in the place of the other, wherever the present goes on with that. */
  #bring(reading: T, other: T, label: string): void {
    const next = merged(this.#kind, other, reading, this.#writing.value).value;
    this.edit(next, label);
  }

  /** Off the list, or back on it. */
  setDeleted(deleted: boolean): void {
    this.#writing.do({ do: 'delete', at: deleted ? this.#now() : undefined });
  }

  /** It is gone for good: what is still on its way is given up, and no other tab is followed. */
  close(): void {
    this.#writing.close();
  }

  /** Waits until all is written, or cannot be. */
  settled(): Promise<void> {
    return this.#writing.settled();
  }

  /** Tries to write again what could not be written, and looks for what others wrote. */
  tryAgain(): Promise<void> {
    return this.#writing.tryAgain();
  }

  #show(step: Step | undefined): void {
    if (step === undefined) return;
    const read = this.#kind.read(step.text);
    if (read.ok) {
      this.#writing.notice = undefined;
      // who goes back has chosen
      this.#writing.question = undefined;
      this.#writing.do({ do: 'show', step: step.number, at: this.#now() }, read.value);
      return;
    }
    const before = stepAt(this.#stored, step.after);
    const back = step.number < this.#stored.entry.head;
    if (read.error.some(isOfNewerFormat))
      this.#say('That step was written by a newer Gripwright and cannot be shown here.');
    // a step that is damaged hides none of those before it
    else if (back && before !== undefined) this.#show(before);
    else this.#say('That step is damaged and cannot be shown.');
  }

  /** What a page that was left could not ask any more. */
  #askWhatWasLeft(): void {
    const question = this.#store.questions.get(this.id) as Question<T> | undefined;
    if (question === undefined) return;
    this.#store.questions.delete(this.id);
    // it may have been worked on since
    this.#writing.question = { ...question, overtaken: true };
    this.#tell();
  }

  #say(notice: string): void {
    this.#writing.notice = notice;
    this.#tell();
  }

  #tell(): void {
    this.state = this.#look();
    this.onchange(this.state);
  }

  #look(): OpenState<T> {
    const { stored, value, saved, lasting, problem, notice, question } = this.#writing;
    const head = headOf(stored);
    return {
      value,
      name: this.#kind.nameOf(value),
      undoes: head.after === 0 ? undefined : head.label,
      redoes: redoStep(stored)?.label,
      versions: stored.versions,
      saved,
      lasting,
      deleted: stored.entry.deleted !== undefined,
      changed: stored.entry.changed,
      problem,
      notice,
      asks: question && {
        places: placesNow(this.#kind, question, value),
        label: question.label,
      },
    };
  }
}
