/**
 * What was done here and is not written yet, put on top of what another tab has written meanwhile. Edits of
 * different places both count. Of the same place, what was done here is shown, and what the other tab did
 * becomes a version with a name.
 */
import type { Kind } from './kind';
import {
  applied,
  changeOf,
  headOf,
  type Change,
  type Move,
  type StoredDocument,
} from './storedDocument';

export interface Pending<T> {
  /** None where the whole document is written anew. */
  readonly move: Move | undefined;
  readonly change: Change;
  /** What the document said before and after it. */
  readonly before: T;
  readonly after: T;
}

export interface Rebased<T> {
  readonly stored: StoredDocument;
  readonly pending: readonly Pending<T>[];
  readonly value: T;
  /** What became of it: `nothing` was left to do, `both` count, or the same place was changed. */
  readonly outcome: 'nothing' | 'both' | 'conflict';
}

interface Put<T> {
  readonly value: T;
  readonly conflict: boolean;
}

function merged<T>(kind: Kind<T>, base: T, mine: T, theirs: T | undefined): Put<T> {
  const one = (value: T | undefined): string | undefined =>
    value === undefined ? undefined : kind.write(value);
  const here = kind.write(mine);
  if (here === one(theirs) || one(base) === one(theirs)) return { value: mine, conflict: false };
  if (theirs === undefined || kind.merge === undefined) return { value: mine, conflict: true };
  const { value, conflicts } = kind.merge({ base, mine, theirs });
  // together they may be what no document can be
  const can = kind.isRead?.(value) === true || kind.read(kind.write(value)).ok;
  return can ? { value, conflict: conflicts.length > 0 } : { value: mine, conflict: true };
}

export function rebase<T>(
  kind: Kind<T>,
  pending: readonly Pending<T>[],
  theirs: StoredDocument,
  now: number,
): Rebased<T> {
  const head = headOf(theirs);
  const read = kind.read(head.text);
  let stored = theirs;
  /** `undefined` as long as it is what another program wrote and this one cannot read. */
  let present = read.ok ? read.value : undefined;
  let outcome: Rebased<T>['outcome'] = 'nothing';
  const moved = new Map<number, number>();
  const again: Pending<T>[] = [];
  const put = (move: Move, before: T, after: T): void => {
    const change = changeOf(stored, move);
    stored = applied(stored, change);
    again.push({ move, change, before, after });
  };
  for (const { move, change, before, after } of pending) {
    if (move === undefined) continue;
    if (move.do === 'version' || move.do === 'delete') {
      const at = move.do === 'version' ? { step: moved.get(move.step) ?? move.step } : {};
      put({ ...move, ...at }, present ?? after, present ?? after);
      continue;
    }
    const { value, conflict } = merged(kind, before, after, present);
    // Undo and Redo were meant for another present: they count where they go with it
    if (move.do === 'show' && conflict) continue;
    if (conflict) outcome = 'conflict';
    else if (outcome === 'nothing') outcome = 'both';
    const text = kind.write(value);
    const was = present ?? after;
    present = value;
    if (text !== headOf(stored).text) {
      const edit = move.do === 'edit' ? move : { label: 'undo', joins: false, at: move.at };
      put(
        {
          do: 'edit',
          text,
          name: kind.nameOf(value),
          label: edit.label,
          at: edit.at,
          joins: moved.size > 0 && edit.joins,
        },
        was,
        value,
      );
    }
    moved.set(change.entry.head, stored.entry.head);
  }
  const value = present ?? pending.at(-1)?.after;
  if (value === undefined) throw new Error('nothing is pending');
  if (outcome === 'conflict')
    put(
      { do: 'version', step: head.number, name: `another tab: ${head.label}`, at: now },
      value,
      value,
    );
  return { stored, pending: again, value, outcome };
}
