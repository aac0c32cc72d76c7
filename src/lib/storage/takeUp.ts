/** Writes what a page has left behind where it belongs, as if it had still been written then. */
import type { Kind } from './kind';
import { takeLeft, type Left } from './left';
import { rebase, type Pending } from './rebase';
import type { Damaged } from './recovered';
import type { Store } from './store';
import { stepAt, together, type Change, type Step, type StoredDocument } from './storedDocument';

/** The last edit of what was left, for a document that says something else by now. */
function pendingOf<T>(kind: Kind<T>, { change }: Left, before: string | undefined): Pending<T>[] {
  const last = change.steps.at(-1);
  const was = before === undefined ? undefined : kind.read(before);
  const is = last && kind.read(last.text);
  if (last === undefined || was?.ok !== true || is?.ok !== true) return [];
  const { text, name, label, at } = last;
  const move = { do: 'edit', text, name, label, at, joins: false } as const;
  return [{ move, change, before: was.value, after: is.value }];
}

/** What is still to be written of what was left, where nothing but a part of it came in between. */
function restOf(stored: StoredDocument, { change }: Left): Change | undefined {
  const steps = change.steps.filter(({ number, text, at }) => {
    const there = stepAt(stored, number);
    return there?.text !== text || there.at !== at;
  });
  const first = steps[0]?.number ?? Infinity;
  const ours = (there: Step): boolean =>
    steps.some(
      ({ number, after, label }) =>
        number === there.number && after === there.after && label === there.label,
    );
  if (stored.steps.some((there) => there.number >= first && !ours(there))) return undefined;
  return {
    ...change,
    steps,
    versions: change.versions.filter(
      ({ number }) => !stored.versions.some((there) => there.number === number),
    ),
    joined: steps.flatMap(({ number }) => (stepAt(stored, number) === undefined ? [] : [number])),
  };
}

/** Whether it is on the device now, or cannot ever be. */
async function write<T>(store: Store, kind: Kind<T>, left: Left, tries = 5): Promise<boolean> {
  const { id, head } = left.change.entry;
  const loaded = await store.load(id);
  if (!loaded.ok) return false;
  const stored = loaded.value;
  const at = (number: number): Step | undefined =>
    left.change.steps.find((step) => step.number === number) ?? (stored && stepAt(stored, number));
  const put = async (on: number, change: Change, step = at(head)): Promise<boolean> => {
    if (step === undefined) return true;
    const entry = { ...change.entry, revision: on };
    const written = await store.write(on, { ...change, entry }, step);
    if (!written.ok || written.value.done) return written.ok;
    // the page that was left, or another tab, has written in this moment
    return tries > 1 && write(store, kind, left, tries - 1);
  };
  if (stored === undefined) return put(0, left.change);
  const { revision } = stored.entry;
  if (revision === left.on) return put(revision, left.change);
  const rest = restOf(stored, left);
  if (rest !== undefined)
    return rest.steps.length + rest.versions.length === 0 || put(revision, rest);
  const before = left.before ?? at(left.change.steps[0]?.after ?? 0)?.text ?? at(1)?.text;
  const pending = pendingOf(kind, left, before);
  if (pending.length === 0) return true;
  const rebased = rebase(kind, pending, stored, Date.now());
  const change = together(rebased.pending.map((each) => each.change));
  if (change === undefined) return true;
  const done = await put(revision, change, stepAt(rebased.stored, rebased.stored.entry.head));
  // the page that was left cannot ask any more
  if (done && rebased.question !== undefined && !store.questions.has(id))
    store.questions.set(id, rebased.question);
  return done;
}

export async function takeUp<T>(store: Store, kind: Kind<T>): Promise<void> {
  await takeLeft(kind.kind, (left) => write(store, kind, left));
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
