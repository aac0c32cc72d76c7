/** Writes what a page has left behind where it belongs, as if it had still been written then. */
import type { Kind } from './kind';
import { leaveAgain, takeLeft, type Left } from './left';
import { rebase, type Pending } from './rebase';
import type { Damaged } from './recovered';
import type { Store } from './store';
import { stepAt, together, type StoredDocument } from './storedDocument';

/** The last edit of what was left, for a document that says something else by now. */
function pendingOf<T>(kind: Kind<T>, { change, before }: Left): Pending<T> | undefined {
  const last = change.steps.at(-1);
  const was = before === undefined ? undefined : kind.read(before);
  const is = last && kind.read(last.text);
  if (last === undefined || was?.ok !== true || is?.ok !== true) return undefined;
  const { text, name, label, at } = last;
  const move = { do: 'edit', text, name, label, at, joins: false } as const;
  return { move, change, before: was.value, after: is.value };
}

const gotThrough = (stored: StoredDocument, { change }: Left): boolean =>
  change.steps.every((step) => {
    const there = stepAt(stored, step.number);
    return there?.text === step.text && there.at === step.at;
  });

/** Whether it is on the device now, or cannot ever be. */
async function write<T>(store: Store, kind: Kind<T>, left: Left): Promise<boolean> {
  const { id, head } = left.change.entry;
  const loaded = await store.load(id);
  if (!loaded.ok) return false;
  const stored = loaded.value;
  const revision = stored?.entry.revision ?? 0;
  if (stored !== undefined && revision !== left.on) {
    if (gotThrough(stored, left)) return true;
    const pending = pendingOf(kind, left);
    if (pending === undefined) return true;
    const rebased = rebase(kind, [pending], stored, Date.now());
    const change = together(rebased.pending.map((each) => each.change));
    const step = stepAt(rebased.stored, rebased.stored.entry.head);
    if (change === undefined || step === undefined) return true;
    const written = await store.write(revision, change, step);
    return written.ok && written.value.done;
  }
  const step =
    left.change.steps.find(({ number }) => number === head) ?? (stored && stepAt(stored, head));
  if (step === undefined) return true;
  const written = await store.write(revision, left.change, step);
  return written.ok && written.value.done;
}

export async function takeUp<T>(store: Store, kind: Kind<T>): Promise<void> {
  for (const left of takeLeft(kind.kind)) if (!(await write(store, kind, left))) leaveAgain(left);
}

/** Puts a document whose line in the list is lost back on it, where its text is of the kind. */
export async function adopt<T>(
  store: Store,
  kind: Kind<T>,
  { id, kind: known, history = [] }: Damaged,
): Promise<boolean> {
  if (known !== undefined) return false;
  const step = history.findLast(({ text }) => kind.read(text).ok);
  if (step === undefined) return false;
  const { number: head, name, at } = step;
  const entry = { id, kind: kind.kind, name, revision: 0, head, made: at, changed: at };
  const written = await store.write(0, { entry, steps: [], versions: [], joined: [] }, step);
  return written.ok && written.value.done;
}
