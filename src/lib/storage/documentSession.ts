/**
 * One stored document while it is open. An edit counts at once and is written at once, without a pause
 * to wait for; what cannot be written stays in line and is tried again with the next edit. If
 * another tab has written in between, what was done here is put on top of what it did, so that Undo
 * leads to the other's, and both are told.
 */
import type { DocumentFault } from '$lib/faults';
import { refuse, ok, type Result } from '$lib/result';
import type { Kind } from './kind';
import {
  applied,
  undoStep,
  redoStep,
  changeOf,
  headOf,
  pastOf,
  stepAt,
  together,
  type Change,
  type StoredDocument,
  type Move,
  type Step,
  type Version,
} from './storedDocument';
import type { Store } from './store';

/** What a view of an open document shows; a new object after every change. */
export interface OpenState<T> {
  readonly value: T;
  readonly name: string;
  /** What Undo would take back, and Redo bring again. */
  readonly undoes: string | undefined;
  readonly redoes: string | undefined;
  /** The named versions, oldest first. */
  readonly versions: readonly Version[];
  /** Everything that was done is stored. */
  readonly saved: boolean;
  readonly deleted: boolean;
  /** Why something is not stored, as a sentence. */
  readonly problem: string | undefined;
  /** What another tab did, as a sentence. */
  readonly notice: string | undefined;
}

interface Pending {
  /** None where the whole document is written anew. */
  readonly move: Move | undefined;
  readonly change: Change;
}

/** The faults of a text that is stored but cannot be read (any more). */
export type Unread = readonly DocumentFault[];

export class DocumentSession<T> {
  readonly id: string;
  readonly #store: Store;
  readonly #kind: Kind<T>;
  readonly #now: () => number;
  #stored: StoredDocument;
  #value: T;
  /** The text of `#value`. */
  #text: string;
  #pending: Pending[] = [];
  /** The revision on the disk that `#stored` without what is pending stands for; 0 for none. */
  #revision: number;
  /** The last revision there was, from which counting goes on. */
  #counted: number;
  #heard = 0;
  #working: Promise<void> | undefined;
  #problem: string | undefined;
  #notice: string | undefined;
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
    this.#stored = stored;
    this.#value = value;
    this.#text = headOf(stored).text;
    this.#revision = this.#counted = stored.entry.revision;
    this.state = this.#look();
    store.messages.listen(({ id, revision }) => {
      if (id !== this.id) return;
      this.#heard = Math.max(this.#heard, revision);
      void this.#work();
    });
  }

  /** Opens what is kept; a text that its kind cannot read is refused and left as it is. */
  static of<T>(
    store: Store,
    kind: Kind<T>,
    stored: StoredDocument,
    now: () => number = Date.now,
  ): Result<DocumentSession<T>, Unread> {
    const read = kind.read(headOf(stored).text);
    return read.ok
      ? ok(new DocumentSession(store, kind, stored, read.value, now))
      : refuse(read.error);
  }

  /**
   * Takes an edit over. What the kind's own reader would refuse is not taken, and its faults are told.
   * With `joins` an edit is one step with those of the same label right before it (typing).
   */
  edit(next: T, label: string, joins = false): Unread {
    const text = this.#kind.write(next);
    if (text === headOf(this.#stored).text) return [];
    const read = this.#kind.read(text);
    if (!read.ok) return read.error;
    const name = this.#kind.nameOf(next);
    this.#notice = undefined;
    this.#do({ do: 'edit', text, name, label, joins, at: this.#now() }, next);
    return [];
  }

  /** Every step from the present one back to the first. */
  get past(): readonly Step[] {
    return pastOf(this.#stored);
  }

  rename(name: string): Unread {
    return this.edit(this.#kind.named(this.#value, name), `name “${name}”`);
  }

  undo(): void {
    this.#show(undoStep(this.#stored));
  }

  redo(): void {
    this.#show(redoStep(this.#stored));
  }

  /** Gives the present step a name under which it can be found. */
  saveVersion(name: string): void {
    this.#do({ do: 'version', step: this.#stored.entry.head, name, at: this.#now() });
  }

  /** Brings an earlier step back, as an edit of its own, so that Undo leads to where one was. */
  restore(step: number, name: string): Unread {
    const read = this.#kind.read(stepAt(this.#stored, step).text);
    return read.ok ? this.edit(read.value, `back to ${name}`) : read.error;
  }

  /** Waits until all is written, or cannot be. */
  async settled(): Promise<void> {
    while (this.#working !== undefined) await this.#working;
  }

  /** Tries to write again what could not be written, and looks for what others wrote. */
  async tryAgain(): Promise<void> {
    await this.#work(true);
  }

  #show(step: Step | undefined): void {
    if (step === undefined) return;
    const read = this.#kind.read(step.text);
    if (!read.ok) {
      this.#notice = 'That step was written by a newer Gripwright and cannot be shown here.';
      this.#tell();
      return;
    }
    this.#notice = undefined;
    this.#do({ do: 'show', step: step.number, at: this.#now() }, read.value);
  }

  #do(move: Move, value: T = this.#value): void {
    const change = changeOf(this.#stored, move);
    this.#stored = applied(this.#stored, change);
    this.#pending.push({ move, change });
    this.#value = value;
    this.#text = headOf(this.#stored).text;
    this.#tell();
    void this.#work();
  }

  /** One at a time: writes what is pending, then looks whether others have written. */
  #work(look = false): Promise<void> {
    this.#working ??= this.#catchUp(look).finally(() => {
      this.#working = undefined;
      // what came in while the last of it was under way
      if (this.#problem === undefined && this.#behind) void this.#work();
    });
    return this.#working;
  }

  get #behind(): boolean {
    return this.#pending.length > 0 || this.#heard > this.#revision;
  }

  async #catchUp(look: boolean): Promise<void> {
    while (this.#pending.length > 0) if (!(await this.#write())) return;
    if (look || this.#heard > this.#revision) await this.#refresh();
  }

  /** Writes all that is pending in one go; `false` where the device does not take it. */
  async #write(): Promise<boolean> {
    const batch = [...this.#pending];
    const change = together(batch.map((each) => each.change));
    if (change === undefined) return true;
    const entry = { ...change.entry, revision: this.#counted };
    const written = await this.#store.write(this.#revision, { ...change, entry });
    if (!written.ok) this.#problem = written.error;
    else if (written.value.done) {
      this.#revision = this.#counted = written.value.revision;
      this.#pending = this.#pending.slice(batch.length);
      this.#problem = undefined;
    } else if (written.value.now === undefined) this.#reviveWhole();
    else this.#putOn(written.value.now);
    this.#tell();
    return written.ok;
  }

  /** Puts what is pending on top of what another tab has written meanwhile. */
  #putOn(theirs: StoredDocument): void {
    const mine = this.#pending;
    const nameOfTheirs = headOf(theirs).label;
    const moved = new Map<number, number>();
    this.#stored = theirs;
    this.#revision = this.#counted = theirs.entry.revision;
    this.#pending = [];
    for (const { move, change } of mine) {
      // Undo and Redo were meant for another present
      if (move === undefined || move.do === 'show') continue;
      const again =
        move.do === 'version'
          ? { ...move, step: moved.get(move.step) ?? move.step }
          : { ...move, joins: move.joins && moved.size > 0 };
      const put = changeOf(this.#stored, again);
      if (again.do === 'edit') moved.set(change.entry.head, put.entry.head);
      this.#stored = applied(this.#stored, put);
      this.#pending.push({ move: again, change: put });
    }
    if (moved.size > 0)
      this.#notice = `Another tab changed this at the same moment (${nameOfTheirs}). What you did here stands; Undo leads to what the other tab did.`;
    else this.#showTheirs();
  }

  /** Another tab deleted it for good while it was worked on here: it is kept anew. */
  #reviveWhole(): void {
    this.#revision = 0;
    this.#pending = [{ move: undefined, change: this.#stored }];
    this.#notice =
      'Another tab deleted this for good. Since you work on it here, it is kept again.';
  }

  async #refresh(): Promise<void> {
    this.#heard = 0;
    const loaded = await this.#store.load(this.id);
    // edits that were made meanwhile find out for themselves
    if (this.#pending.length > 0) return;
    this.#problem = loaded.ok ? undefined : loaded.error;
    if (loaded.ok && loaded.value !== undefined && loaded.value.entry.revision !== this.#revision) {
      this.#stored = loaded.value;
      this.#revision = this.#counted = loaded.value.entry.revision;
      this.#showTheirs();
    }
    this.#tell();
  }

  /** Shows what is kept now, and says so where it is something else than before. */
  #showTheirs(): void {
    const head = headOf(this.#stored);
    if (head.text === this.#text) return;
    const read = this.#kind.read(head.text);
    if (read.ok) {
      this.#value = read.value;
      this.#text = head.text;
      this.#notice = `Changed in another tab: ${head.label}.`;
    } else
      this.#notice =
        'Another tab with a newer Gripwright changed this; reload the page to see it. What you see here is older.';
  }

  #tell(): void {
    this.state = this.#look();
    this.onchange(this.state);
  }

  #look(): OpenState<T> {
    const stored = this.#stored;
    const back = undoStep(stored);
    return {
      value: this.#value,
      name: this.#kind.nameOf(this.#value),
      undoes: back && headOf(stored).label,
      redoes: redoStep(stored)?.label,
      versions: stored.versions,
      saved: this.#pending.length === 0,
      deleted: stored.entry.deleted !== undefined,
      problem: this.#problem,
      notice: this.#notice,
    };
  }
}
