/**
 * One document between a page and the device: what it says here, what of that is still in line to be
 * written, and what others write. What the device does not take stays in line and is tried again. If another
 * tab has written in between, what was done here is put together with what it did, and both are told.
 */
import type { Kind } from './kind';
import type { Left } from './left';
import { rebase, type Pending, type Question } from './rebase';
import type { Store } from './store';
import {
  applied,
  changeOf,
  headOf,
  together,
  wholeOf,
  withSteps,
  type StoredDocument,
  type Move,
} from './storedDocument';
import type { TabMessage } from './tabMessages';
import type { Held } from './unsaved';

/** A question to the player; `overtaken` where another tab has written since. */
interface Open<T> extends Question<T> {
  readonly overtaken: boolean;
}

export class Writing<T> implements Held {
  readonly #store: Store;
  readonly #kind: Kind<T>;
  readonly #now: () => number;
  #stored: StoredDocument;
  #value: T;
  /** The text of `#value`. */
  #text: string;
  #pending: readonly Pending<T>[] = [];
  /** The text on the device, under what is pending; `undefined` for a document that is new. */
  #written: string | undefined;
  /** The revision on the device that `#stored` without what is pending stands for; 0 for none. */
  #revision: number;
  /** The last revision there was, from which counting goes on. */
  #counted: number;
  #heard = 0;
  #working: Promise<void> | undefined;
  #cleaning: Promise<void> | undefined;
  readonly #deaf: () => void;
  /** Why something is not on the device, as a sentence. */
  problem: string | undefined;
  /** What another tab did, as a sentence. */
  notice: string | undefined;
  question: Open<T> | undefined;
  /** Is called after every change. */
  ontell: () => void = () => undefined;

  constructor(store: Store, kind: Kind<T>, stored: StoredDocument, value: T, now: () => number) {
    this.#store = store;
    this.#kind = kind;
    this.#now = now;
    this.#stored = stored;
    this.#value = value;
    this.#text = headOf(stored).text;
    this.#revision = this.#counted = stored.entry.revision;
    this.#written = this.#revision === 0 ? undefined : this.#text;
    this.#deaf = store.messages.listen((message) => {
      if (message.id === stored.entry.id) this.#hear(message);
    });
  }

  get stored(): StoredDocument {
    return this.#stored;
  }
  get value(): T {
    return this.#value;
  }
  get saved(): boolean {
    return this.#pending.length === 0 && this.#revision > 0;
  }
  get lasting(): boolean {
    return this.#revision > 0;
  }

  /** Writes the whole of a document that is new. */
  begin(): void {
    this.#writeWhole();
    this.ontell();
    void this.#work();
  }

  /** Makes a move, after which the document says `value`. */
  do(move: Move, value: T = this.#value): void {
    const change = changeOf(this.#stored, move);
    this.#stored = applied(this.#stored, change);
    this.#pending = [...this.#pending, { move, change, before: this.#value, after: value }];
    this.#value = value;
    this.#text = headOf(this.#stored).text;
    this.#store.unsaved.begin(this);
    this.ontell();
    void this.#work();
  }

  /** Has more of the past in hand. */
  hold(stored: StoredDocument): void {
    this.#stored = stored;
    this.ontell();
  }

  /** It is gone for good: what is still on its way is given up, and no other tab is followed. */
  close(): void {
    this.#deaf();
    this.#pending = [];
    this.#store.unsaved.done(this);
  }

  /** Waits until all is written, or cannot be. */
  async settled(): Promise<void> {
    while (this.#working !== undefined) await this.#working;
  }

  /** Tries to write again what could not be written, and looks for what others wrote. */
  async tryAgain(): Promise<void> {
    await this.#work(true);
  }

  /** What is done and not on the device yet. */
  left(): Left | undefined {
    const change = together(this.#pending.map((each) => each.change));
    if (change === undefined) return undefined;
    return {
      kind: this.#kind.kind,
      on: this.#revision,
      change,
      ...(this.#written === undefined ? {} : { before: this.#written }),
    };
  }

  /** One at a time: writes what is pending, then looks whether others have written. */
  #work(look = false): Promise<void> {
    this.#working ??= this.#catchUp(look).finally(() => {
      this.#working = undefined;
      // what came in while the last of it was under way
      if (this.problem === undefined && this.#behind) void this.#work();
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
    const batch = this.#pending;
    const change = together(batch.map((each) => each.change));
    if (change === undefined) return true;
    const entry = { ...change.entry, revision: this.#counted };
    const head = headOf(this.#stored);
    const written = await this.#store.write(this.#revision, { ...change, entry }, head);
    if (!written.ok) {
      this.problem = written.error;
      this.#store.unsaved.failed(this);
    } else if (written.value.done) {
      this.#revision = this.#counted = written.value.revision;
      this.#pending = this.#pending.slice(batch.length);
      this.#written = head.text;
      this.problem = undefined;
      if (this.#pending.length === 0) this.#store.unsaved.done(this);
      if (this.#stored.entry.clean !== true) this.#cleaning ??= this.#clean();
    } else if (written.value.now === undefined) this.#reviveWhole();
    else this.#putOn(written.value.now);
    this.ontell();
    return written.ok;
  }

  /** Letters that an earlier program left behind go when the document is written. */
  async #clean(): Promise<void> {
    if (!(await this.#store.clean(this.#stored.entry.id))) return;
    // written with the next edit
    this.#stored = { ...this.#stored, entry: { ...this.#stored.entry, clean: true } };
  }

  /** Puts what is pending together with what another tab has written meanwhile. */
  #putOn(theirs: StoredDocument): void {
    const label = headOf(theirs).label;
    const put = rebase(this.#kind, this.#pending, theirs, this.#now());
    this.#revision = this.#counted = theirs.entry.revision;
    this.#written = headOf(theirs).text;
    this.#stored = put.stored;
    this.#pending = put.pending;
    if (put.pending.length === 0) this.#store.unsaved.done(this);
    if (put.outcome === 'nothing') {
      this.#showTheirs();
      return;
    }
    this.#value = put.value;
    this.#text = headOf(this.#stored).text;
    if (put.outcome === 'both')
      this.notice = `Another tab changed this at the same moment too (${label}). Both changes are here.`;
    else if (put.question !== undefined) {
      this.notice = undefined;
      this.question = { ...put.question, overtaken: false };
    } else
      this.notice = `Another tab with a newer Gripwright changed this at the same moment (${label}). What you did here stands; what it did is among the versions.`;
  }

  /** Another tab deleted it for good while it was worked on here: it is kept anew. */
  #reviveWhole(): void {
    this.#revision = 0;
    this.#writeWhole();
    this.notice = 'Another tab deleted this for good. Since you work on it here, it is kept again.';
  }

  #writeWhole(): void {
    const change = wholeOf(this.#stored);
    this.#written = undefined;
    this.#pending = [{ move: undefined, change, before: this.#value, after: this.#value }];
    this.#store.unsaved.begin(this);
  }

  /** Another tab, or another part of this page, has written. */
  #hear({ revision, news }: TabMessage): void {
    this.#heard = Math.max(this.#heard, revision);
    const idle = this.#working === undefined && this.#pending.length === 0;
    // what it did is all that is missing here
    if (idle && news?.on === this.#revision && this.#revision > 0) {
      this.#stored = withSteps(applied(this.#stored, news.change), [news.step]);
      this.#revision = this.#counted = revision;
      this.#written = news.step.text;
      this.#showTheirs();
      this.ontell();
    } else void this.#work();
  }

  async #refresh(): Promise<void> {
    this.#heard = 0;
    const loaded = await this.#store.load(this.#stored.entry.id);
    // edits that were made meanwhile find out for themselves
    if (this.#pending.length > 0) return;
    this.problem = loaded.ok ? undefined : loaded.error;
    if (loaded.ok && loaded.value !== undefined && loaded.value.entry.revision !== this.#revision) {
      this.#stored = loaded.value;
      this.#revision = this.#counted = loaded.value.entry.revision;
      this.#written = headOf(loaded.value).text;
      this.#showTheirs();
    }
    this.ontell();
  }

  /** Shows what is kept now, and says so where it is something else than before. */
  #showTheirs(): void {
    const head = headOf(this.#stored);
    if (head.text === this.#text) return;
    const read = this.#kind.read(head.text);
    if (read.ok) {
      this.#value = read.value;
      this.#text = head.text;
      this.notice = `Changed in another tab: ${head.label}.`;
      if (this.question !== undefined) this.question = { ...this.question, overtaken: true };
    } else
      this.notice =
        'Another tab with a newer Gripwright changed this; reload the page to see it. What you see here is older.';
  }
}
