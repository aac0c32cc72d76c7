/**
 * Two edits of the same thing as one: what only one of the two has changed is as that one says. Where both
 * say something else of the same place, what is done here stands and the place is told.
 */
import { isRecord } from '$lib/setup/parsed';

/** A place of which both say something else. */
export interface Conflict {
  /** Keys behind points, and names of items in brackets: `controls[A].pulls[1:5].travel`. */
  readonly path: string;
  /** `ABSENT` for what that side has taken away. */
  readonly mine: unknown;
  readonly theirs: unknown;
}

export interface Merged<T, C = Conflict> {
  readonly value: T;
  readonly conflicts: readonly C[];
}

/** A thing as it was, and as it is here and there. */
export interface Three<T> {
  readonly base: T;
  readonly mine: T;
  readonly theirs: T;
}

/** What an item of a list is called, whatever its place; `undefined` for a list that is one thing. */
export type KeyOf = (path: string, item: unknown, index: number) => string | undefined;

/** A value that is not there, so that leaving out is a change like any other. */
export const ABSENT = Symbol('absent');

const isList = (value: unknown): value is readonly unknown[] => Array.isArray(value);

/** The same content; the order of keys says nothing. */
export function same(a: unknown, b: unknown): boolean {
  if (a === b) return true;
  if (isList(a) && isList(b))
    return a.length === b.length && a.every((each, at) => same(each, b[at]));
  if (!isRecord(a) || !isRecord(b) || isList(a) || isList(b)) return false;
  const keys = Object.keys(a);
  return (
    keys.length === Object.keys(b).length &&
    keys.every((key) => Object.hasOwn(b, key) && same(a[key], b[key]))
  );
}

/** Where one side changed nothing, or both the same; `undefined` where they differ. */
export function plain<T>({ base, mine, theirs }: Three<T>): { readonly value: T } | undefined {
  if (same(mine, theirs) || same(base, theirs)) return { value: mine };
  return same(base, mine) ? { value: theirs } : undefined;
}

/** The keys of both, in the order of the side that changed the order, each new one after its neighbour. */
function keysOf({ base, mine, theirs }: Three<readonly string[]>): readonly string[] {
  const inBoth = (keys: readonly string[]): string =>
    keys.filter((key) => mine.includes(key) && theirs.includes(key)).join('\n');
  const [lead, other] = inBoth(base) === inBoth(mine) ? [theirs, mine] : [mine, theirs];
  const keys = [...lead];
  other.forEach((key, at) => {
    if (keys.includes(key)) return;
    const before = other[at - 1];
    keys.splice(before === undefined ? 0 : keys.indexOf(before) + 1, 0, key);
  });
  return keys;
}

function mergeKeys(
  three: Three<ReadonlyMap<string, unknown>>,
  pathOf: (key: string) => string,
  keyOf: KeyOf,
): Merged<readonly (readonly [string, unknown])[]> {
  const { base, mine, theirs } = three;
  const conflicts: Conflict[] = [];
  const of = (side: ReadonlyMap<string, unknown>, key: string): unknown =>
    side.has(key) ? side.get(key) : ABSENT;
  const keys = keysOf({
    base: [...base.keys()],
    mine: [...mine.keys()],
    theirs: [...theirs.keys()],
  });
  const value = keys.flatMap((key): (readonly [string, unknown])[] => {
    const merged = merge3(
      { base: of(base, key), mine: of(mine, key), theirs: of(theirs, key) },
      keyOf,
      pathOf(key),
    );
    conflicts.push(...merged.conflicts);
    return merged.value === ABSENT ? [] : [[key, merged.value]];
  });
  return { value, conflicts };
}

const entriesOf = (value: unknown): ReadonlyMap<string, unknown> =>
  new Map(isRecord(value) ? Object.entries(value) : []);

function itemsOf(list: readonly unknown[], path: string, keyOf: KeyOf) {
  const items = new Map<string, unknown>();
  list.forEach((item, index) => {
    const key = keyOf(path, item, index);
    if (key !== undefined) items.set(key, item);
  });
  return items.size === list.length ? items : undefined;
}

/** Merges plain values: objects by their keys, lists by the names of their items. */
export function merge3(three: Three<unknown>, keyOf: KeyOf, path = ''): Merged<unknown> {
  const { base, mine, theirs } = three;
  const alike = plain(three);
  if (alike !== undefined) return { value: alike.value, conflicts: [] };
  const conflict = { value: mine, conflicts: [{ path, mine, theirs }] };
  if (isList(mine) && isList(theirs)) {
    const [was, here, there] = [isList(base) ? base : [], mine, theirs].map((list) =>
      itemsOf(list, path, keyOf),
    );
    if (was === undefined || here === undefined || there === undefined) return conflict;
    const merged = mergeKeys(
      { base: was, mine: here, theirs: there },
      (key) => `${path}[${key}]`,
      keyOf,
    );
    return { value: merged.value.map(([, item]) => item), conflicts: merged.conflicts };
  }
  if (!isRecord(mine) || !isRecord(theirs) || isList(mine) || isList(theirs)) return conflict;
  const merged = mergeKeys(
    { base: entriesOf(base), mine: entriesOf(mine), theirs: entriesOf(theirs) },
    (key) => (path === '' ? key : `${path}.${key}`),
    keyOf,
  );
  return { value: Object.fromEntries(merged.value), conflicts: merged.conflicts };
}
