/** Looking into a parsed document, of which nothing is known yet. */
import type { BaseIssue } from 'valibot';
import type { DocumentFault } from '$lib/faults';
import { fault } from '$lib/setupFaults';

export type Parsed = Readonly<Record<string, unknown>>;

/** Is it an object with keys, and no list? */
export const isRecord = (value: unknown): value is Parsed =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

/** The list that a value is; empty where it is none. */
export const listOf = (value: unknown): readonly unknown[] => (Array.isArray(value) ? value : []);

/** The objects in a list, each with its index in it, from 0. */
export const recordsIn = (value: unknown): (readonly [Parsed, number])[] =>
  listOf(value).flatMap((item, index) => (isRecord(item) ? [[item, index] as const] : []));

/** Where in a document a shape found an issue: `necks[0].strings[2].open`; empty for the whole. */
export function pathOf({ path }: Pick<BaseIssue<unknown>, 'path'>): string {
  let text = '';
  for (const { key } of path ?? []) {
    if (typeof key === 'number') text += `[${key}]`;
    else if (typeof key === 'string') text += text === '' ? key : `.${key}`;
  }
  return text;
}

/** Is an issue about a key that the shape of its object does not know? It tells one of an object only. */
export function isOfUnknownKey({ path }: Pick<BaseIssue<unknown>, 'path'>): boolean {
  const last = path?.at(-1);
  return last?.type === 'object' && last.origin === 'key' && last.key in last.input;
}

/** A fault for every key of an object that is not among the known ones; none for what is no object. */
export function unknownKeys(
  value: unknown,
  known: readonly string[],
  path: string,
): DocumentFault[] {
  if (!isRecord(value)) return [];
  return Object.keys(value)
    .filter((key) => !known.includes(key))
    .map((key) => fault('key.unknown', path === '' ? key : `${path}.${key}`, key, known));
}
