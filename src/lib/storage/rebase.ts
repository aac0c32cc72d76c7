/**
 * What was done here and is not written yet, put on top of what another tab has written meanwhile. Edits of
 * different places both count. Of the same place, what was done here is shown, both become versions with a
 * name, and the player is asked.
 */
import type { Kind } from './kind';
import type { Reading } from './reading';
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

/** What two tabs say of the same place, of which a player keeps one. */
export interface Question<T> {
  /** The places as they were then, where they can be told. */
  readonly places: readonly Reading[];
  /** What the other tab did, by the label of its edit. */
  readonly label: string;
  /** What both began with. */
  readonly base: T;
  /** All that both did, with what was done here in those places, and with what the other tab did there. */
  readonly mine: T;
  readonly theirs: T;
}

export interface Rebased<T> {
  readonly stored: StoredDocument;
  readonly pending: readonly Pending<T>[];
  readonly value: T;
  /** What became of it: `nothing` was left to do, `both` count, or the same place was changed. */
  readonly outcome: 'nothing' | 'both' | 'conflict';
  /** Of a conflict; none where this program cannot read what the other wrote. */
  readonly question?: Question<T>;
}

interface Put<T> {
  readonly value: T;
  readonly conflict: boolean;
  readonly places: readonly Reading[];
}

/** Two edits of one value as one; of the same place it is `mine`. */
export function merged<T>(kind: Kind<T>, base: T, mine: T, theirs: T | undefined): Put<T> {
  const one = (value: T | undefined): string | undefined =>
    value === undefined ? undefined : kind.write(value);
  const here = kind.write(mine);
  if (here === one(theirs) || one(base) === one(theirs))
    return { value: mine, conflict: false, places: [] };
  if (theirs === undefined || kind.merge === undefined)
    return { value: mine, conflict: true, places: [] };
  const { value, conflicts } = kind.merge({ base, mine, theirs });
  // together they may be what no document can be
  const can = kind.isRead?.(value) === true || kind.read(kind.write(value)).ok;
  return can
    ? { value, conflict: conflicts.length > 0, places: conflicts }
    : { value: mine, conflict: true, places: [] };
}

/** What a question is about by now: what is said here may have gone on since. */
export function placesNow<T>(kind: Kind<T>, question: Question<T>, now: T): readonly Reading[] {
  const { base, theirs } = question;
  const still = merged(kind, base, now, theirs).places;
  return still.length > 0 ? still : question.places;
}

/** The longest reading that goes into the name of a version. */
const MOST_IN_NAME = 24;

/** The names of both versions: what was done, and where one place says it all, how it reads. */
function versionNames(label: string, theirLabel: string, places: readonly Reading[]) {
  const [place] = places;
  const one = (text: string): string =>
    places.length === 1 && text.length <= MOST_IN_NAME ? ` (${text})` : '';
  return {
    theirs: `another tab: ${theirLabel}${one(place?.theirs ?? '')}`,
    mine: `one tab: ${label}${one(place?.mine ?? '')}`,
  };
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
  const places: Reading[] = [];
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
    const { value, conflict, places: more } = merged(kind, before, after, present);
    // Undo and Redo were meant for another present: they count where they go with it
    if (move.do === 'show' && conflict) continue;
    places.push(...more);
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
  const first = pending[0];
  const value = present ?? pending.at(-1)?.after;
  if (first === undefined || value === undefined) throw new Error('nothing is pending');
  if (outcome !== 'conflict') return { stored, pending: again, value, outcome };
  // all that was done here in one: a place that was changed twice is told once
  const here = pending.at(-1)?.after ?? first.after;
  const whole = read.ok ? merged(kind, first.before, here, read.value).places : [];
  const told = whole.length > 0 ? whole : places;
  const names = versionNames(headOf(stored).label, head.label, told);
  const mine = stored.entry.head;
  put({ do: 'version', step: head.number, name: names.theirs, at: now }, value, value);
  if (mine !== head.number)
    put({ do: 'version', step: mine, name: names.mine, at: now }, value, value);
  if (!read.ok) return { stored, pending: again, value, outcome };
  const other = merged(kind, first.before, read.value, here).value;
  const question = {
    places: told,
    label: head.label,
    base: first.before,
    mine: value,
    theirs: other,
  };
  return { stored, pending: again, value, outcome, question };
}
