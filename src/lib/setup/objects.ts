/**
 * Where a setup file has objects, and what may be wrong with them as such: keys that nobody knows, and
 * lists in their place. Read from the parsed document, so that a fault in one place never hides the
 * faults in another.
 */
import type { DocumentFault } from '$lib/faults';
import { isRecord, listOf, unknownKeys } from './parsed';
import { KEYS } from './setupFile';
import { shapeFault } from './shapeFaults';

/** What stands where the format has an object. */
interface ObjectAt {
  readonly value: unknown;
  readonly path: string;
  readonly keys: readonly string[];
}

const itemsIn = (value: unknown, list: string, path: string, keys: readonly string[]): ObjectAt[] =>
  listOf(isRecord(value) ? value[list] : undefined).map((item, index) => ({
    value: item,
    path: `${path}${list}[${index}]`,
    keys,
  }));

/** Every object of a file, each before those inside it. */
function objectsIn(file: unknown): ObjectAt[] {
  const inside = (
    object: ObjectAt,
    ...lists: readonly (readonly [string, readonly string[]])[]
  ): ObjectAt[] => [
    object,
    ...lists.flatMap(([list, keys]) => itemsIn(object.value, list, `${object.path}.`, keys)),
  ];
  return [
    { value: file, path: '', keys: KEYS.setup },
    { value: isRecord(file) ? file['reach'] : undefined, path: 'reach', keys: KEYS.reach },
    { value: isRecord(file) ? file['changer'] : undefined, path: 'changer', keys: KEYS.changer },
    ...itemsIn(file, 'necks', '', KEYS.neck).flatMap((neck) =>
      inside(neck, ['strings', KEYS.string]),
    ),
    ...itemsIn(file, 'controls', '', KEYS.control).flatMap((control) =>
      inside(control, ['pulls', KEYS.pull], ['drops', KEYS.drop]),
    ),
  ];
}

/** Lists where an object must stand: the shape takes them for objects that lack their keys. */
export const listsForObjects = (file: unknown): DocumentFault[] =>
  objectsIn(file)
    .filter(({ value }) => Array.isArray(value))
    .map(({ value, path }) => shapeFault(path, value));

/** Every key that the format does not know; the shape tells one of an object only. */
export const unknownKeysIn = (file: unknown): DocumentFault[] =>
  objectsIn(file).flatMap(({ value, path, keys }) => unknownKeys(value, keys, path));
