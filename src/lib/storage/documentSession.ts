/**
 * One document while it is open. An edit counts at once and is written at once, without a pause to wait
 * for; what the device does not take stays in line and is tried again. If another tab has written in
 * between, what was done here is put together with what it did, and both are told.
 */
import type { DocumentFault } from '$lib/faults';
import { refuse, ok, type Result } from '$lib/result';
import type { Kind } from './kind';
import type { Left } from './left';
import { rebase, type Pending } from './rebase';
import type { Store } from './store';
import {
  applied,
  undoStep,
  redoStep,
  changeOf,
  headOf,
  newDocument,
  pastOf,
  stepAt,
  together,
  wholeOf,
  withSteps,
  type Joins,
  type StoredDocument,
  type Move,
  type Step,
  type Version,
} from './storedDocument';
import type { TabMessage } from './tabMessages';
import type { Held } from './unsaved';

/** What a view of an open document shows; a new object after every change. */
export interface OpenState<T> {
  readonly value: T;
  readonly name: string;
  /** What Undo would take back, and Redo bring again. */
  readonly undoes: string | undefined;
  readonly redoes: string | undefined;
  /** The named versions, oldest first. */
  readonly versions: readonly Version[];
  /** Everything that was done is on the device. */
  readonly saved: boolean;
  /** It has been on the device, if not as it is now. */
  readonly lasting: boolean;
  readonly deleted: boolean;
  readonly changed: number;
  /** Why something is not stored, as a sentence. */
  readonly problem: string | undefined;
  /** What another tab did, as a sentence. */
  readonly notice: string | undefined;
}

/** The faults of a text that is stored but cannot be read (any more). */
export type Unread = readonly DocumentFault[];

/** As much of the past is fetched in one go. */
const PAST_AT_ONCE = 500;
/** As many steps back are in hand before Undo asks for them. */
const PAST_IN_HAND = 8;

const isOfNewerFormat = ({ code }: DocumentFault): boolean =>
  code === 'format.newer' || code === 'progression.format';

function lastReadable<T>(
  kind: Kind<T>,
  { steps }: StoredDocument,
): { readonly step: Step; readonly value: T } | undefined {
  for (const step of steps.toReversed()) {
    const read = kind.read(step.text);
    if (read.ok) return { step, value: read.value };
  }
  return undefined;
}

export class DocumentSession<T> implements Held {
  readonly id: string;
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
  #fetching: Promise<void> | undefined;
  #cleaning: Promise<void> | undefined;
  #problem: string | undefined;
  #notice: string | undefined;
  readonly #deaf: () => void;
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
    this.#written = this.#revision === 0 ? undefined : this.#text;
    this.state = this.#look();
    this.#deaf = store.messages.listen((message) => {
      if (message.id === this.id) this.#hear(message);
    });
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
    if (read.ok) return ok(new DocumentSession(store, kind, stored, read.value, now));
    // of a newer format it is whole, and none of this program's business
    const last = read.error.some(isOfNewerFormat) ? undefined : lastReadable(kind, stored);
    if (last === undefined) return refuse(read.error);
    const { number: head, name } = last.step;
    const entry = { ...stored.entry, head, name };
    const session = new DocumentSession(store, kind, { ...stored, entry }, last.value, now);
    session.#notice =
      'The newest step of this cannot be read any more. What you see is the last one that can; the history is kept as it is.';
    session.#tell();
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
    session.#writeWhole();
    session.#tell();
    void session.#work();
    return ok(session);
  }

  /**
   * Takes an edit over. What the kind's own reader would refuse is not taken, and its faults are told.
   * With `joins` an edit is one step with those of the same label right before it (typing).
   */
  edit(next: T, label: string, joins: Joins = false): Unread {
    const text = this.#kind.write(next);
    if (text === headOf(this.#stored).text) return [];
    const read = this.#kind.isRead?.(next) === true ? ok(next) : this.#kind.read(text);
    if (!read.ok) return read.error;
    const name = this.#kind.nameOf(next);
    this.#notice = undefined;
    this.#do({ do: 'edit', text, name, label, joins, at: this.#now() }, next);
    return [];
  }

  /** Steps from the present one back, as far as they are in hand; `loadPast` brings more. */
  get past(): readonly Step[] {
    return pastOf(this.#stored);
  }

  /** There are steps before those in hand. */
  get hasMorePast(): boolean {
    return pastOf(this.#stored).at(-1)?.after !== 0;
  }

  /** Fetches more of the past, if there is more; at once where it is in hand. */
  loadPast(): Promise<void> {
    if (!this.hasMorePast) return Promise.resolve();
    this.#fetching ??= this.#fetchPast().finally(() => (this.#fetching = undefined));
    return this.#fetching;
  }

  rename(name: string): Unread {
    return this.edit(this.#kind.named(this.#value, name), `name “${name}”`);
  }

  undo(): void {
    const step = undoStep(this.#stored);
    if (step !== undefined) this.#show(step);
    else if (headOf(this.#stored).after !== 0)
      void this.loadPast().then(() => this.#show(undoStep(this.#stored)));
    if (pastOf(this.#stored).length < PAST_IN_HAND) void this.loadPast();
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
    const text = stepAt(this.#stored, step)?.text;
    if (text === undefined) throw new Error(`step ${step} is not in hand`);
    const read = this.#kind.read(text);
    return read.ok ? this.edit(read.value, `back to ${name}`) : read.error;
  }

  /** Off the list, or back on it. */
  setDeleted(deleted: boolean): void {
    this.#do({ do: 'delete', at: deleted ? this.#now() : undefined });
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

  async #fetchPast(): Promise<void> {
    const oldest = pastOf(this.#stored).at(-1);
    if (oldest === undefined || oldest.after === 0) return;
    const fetched = await this.#store.past(this.id, oldest.after, PAST_AT_ONCE);
    if (!fetched.ok) {
      this.#problem = fetched.error;
      this.#tell();
      return;
    }
    // where a step is lost, the one after it follows the one before it
    const after = fetched.value[0]?.number ?? 0;
    const known = stepAt(this.#stored, oldest.number) ?? oldest;
    this.#stored = withSteps(
      {
        ...this.#stored,
        steps: this.#stored.steps.map((s) => (s === known ? { ...s, after } : s)),
      },
      fetched.value,
    );
    this.#tell();
  }

  #show(step: Step | undefined): void {
    if (step === undefined) return;
    const read = this.#kind.read(step.text);
    if (read.ok) {
      this.#notice = undefined;
      this.#do({ do: 'show', step: step.number, at: this.#now() }, read.value);
      return;
    }
    const before = stepAt(this.#stored, step.after);
    const back = step.number < this.#stored.entry.head;
    if (read.error.some(isOfNewerFormat))
      this.#notice = 'That step was written by a newer Gripwright and cannot be shown here.';
    else if (back && before !== undefined) {
      // a step that is damaged hides none of those before it
      this.#show(before);
      return;
    } else this.#notice = 'That step is damaged and cannot be shown.';
    this.#tell();
  }

  #do(move: Move, value: T = this.#value): void {
    const change = changeOf(this.#stored, move);
    this.#stored = applied(this.#stored, change);
    this.#pending = [...this.#pending, { move, change, before: this.#value, after: value }];
    this.#value = value;
    this.#text = headOf(this.#stored).text;
    this.#store.unsaved.begin(this);
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
    const batch = this.#pending;
    const change = together(batch.map((each) => each.change));
    if (change === undefined) return true;
    const entry = { ...change.entry, revision: this.#counted };
    const head = headOf(this.#stored);
    const written = await this.#store.write(this.#revision, { ...change, entry }, head);
    if (!written.ok) {
      this.#problem = written.error;
      this.#store.unsaved.failed(this);
    } else if (written.value.done) {
      this.#revision = this.#counted = written.value.revision;
      this.#pending = this.#pending.slice(batch.length);
      this.#written = head.text;
      this.#problem = undefined;
      if (this.#pending.length === 0) this.#store.unsaved.done(this);
      if (this.#stored.entry.clean !== true) this.#cleaning ??= this.#clean();
    } else if (written.value.now === undefined) this.#reviveWhole();
    else this.#putOn(written.value.now);
    this.#tell();
    return written.ok;
  }

  /** Letters that an earlier program left behind go when the document is written. */
  async #clean(): Promise<void> {
    if (!(await this.#store.clean(this.id))) return;
    // written with the next edit
    this.#stored = { ...this.#stored, entry: { ...this.#stored.entry, clean: true } };
  }

  /** Puts what is pending together with what another tab has written meanwhile. */
  #putOn(theirs: StoredDocument): void {
    const label = headOf(theirs).label;
    const { stored, pending, value, outcome } = rebase(
      this.#kind,
      this.#pending,
      theirs,
      this.#now(),
    );
    this.#revision = this.#counted = theirs.entry.revision;
    this.#written = headOf(theirs).text;
    this.#stored = stored;
    this.#pending = pending;
    if (pending.length === 0) this.#store.unsaved.done(this);
    if (outcome === 'nothing') {
      this.#showTheirs();
      return;
    }
    this.#value = value;
    this.#text = headOf(this.#stored).text;
    this.#notice =
      outcome === 'both'
        ? `Another tab changed this at the same moment too (${label}). Both changes are here.`
        : `Another tab changed the same place at the same moment (${label}). What you did here stands; what the other tab did is among the versions, as “another tab: ${label}”.`;
  }

  /** Another tab deleted it for good while it was worked on here: it is kept anew. */
  #reviveWhole(): void {
    this.#revision = 0;
    this.#writeWhole();
    this.#notice =
      'Another tab deleted this for good. Since you work on it here, it is kept again.';
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
      this.#tell();
    } else void this.#work();
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
      this.#written = headOf(loaded.value).text;
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
    const head = headOf(stored);
    return {
      value: this.#value,
      name: this.#kind.nameOf(this.#value),
      undoes: head.after === 0 ? undefined : head.label,
      redoes: redoStep(stored)?.label,
      versions: stored.versions,
      saved: this.#pending.length === 0 && this.#revision > 0,
      lasting: this.#revision > 0,
      deleted: stored.entry.deleted !== undefined,
      changed: stored.entry.changed,
      problem: this.#problem,
      notice: this.#notice,
    };
  }
}
