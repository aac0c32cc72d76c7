/**
 * The one door for setups: from text or a parsed document to a `Setup`, or to the list of all its
 * faults. Nothing is repaired or dropped on the way.
 */
import * as v from 'valibot';
import { guarded, jsonIn } from '$lib/documentFaults';
import type { DocumentFault } from '$lib/faults';
import { fault } from '$lib/setupFaults';
import { ok, refuse, type Result } from '$lib/result';
import type { Setup } from './setup';
import { SetupShape, type SetupFile } from './setupFile';
import { shapeFault } from './shapeFaults';
import { listsForObjects, unknownKeysIn } from './objects';
import { setupOf } from './setupOf';
import { isOfUnknownKey, pathOf } from './parsed';
import { ruleFaults } from './setupRules';
import { migrate } from './migrations';
import { overfull } from './overfull';

/** A file larger than this is no setup; the largest possible one is far below. */
export const MOST_CHARACTERS = 2_000_000;
/** The same in bytes: a character of UTF-8 has four at most. A larger file need not be read at all. */
export const MOST_FILE_BYTES = 4 * MOST_CHARACTERS;

function shapeFaults(document: unknown): { faults: DocumentFault[]; file?: SetupFile } {
  const read = v.safeParse(SetupShape, document);
  if (read.success) return { faults: [], file: read.output };
  const faults = read.issues
    // all of them are listed by `unknownKeysIn`
    .filter((issue) => !isOfUnknownKey(issue))
    .map((issue) => shapeFault(pathOf(issue), issue.input));
  return { faults };
}

/** Checks a parsed document and gives the setup it describes, or every fault in it. */
export function readSetup(document: unknown): Result<Setup, readonly DocumentFault[]> {
  const migrated = migrate(document);
  if (!migrated.ok) return refuse([migrated.error]);
  const tooMuch = overfull(migrated.value);
  if (tooMuch !== undefined) return refuse([tooMuch]);
  const { faults, file } = shapeFaults(migrated.value);
  const lists = listsForObjects(migrated.value);
  const listPaths = new Set(lists.map(({ path }) => path));
  const inList = (path: string): boolean =>
    [...path.matchAll(/\./g)].some(({ index }) => listPaths.has(path.slice(0, index)));
  // A wrong shape and a broken rule at one place are one fault: the first tells more.
  const byPath = new Map<string, DocumentFault>();
  for (const each of [
    ...lists,
    ...faults.filter(({ path }) => !inList(path)),
    ...unknownKeysIn(migrated.value),
    ...ruleFaults(migrated.value),
  ])
    if (!byPath.has(each.path)) byPath.set(each.path, each);
  const all = [...byPath.values()];
  if (all.length > 0 || file === undefined) return refuse(all);
  return ok(setupOf(file));
}

/** The same from the text of a file. */
export function readSetupText(text: string): Result<Setup, readonly DocumentFault[]> {
  if (text.length > MOST_CHARACTERS)
    return refuse([fault('setup.tooLong', '', text.length, MOST_CHARACTERS)]);
  const document = jsonIn(text);
  if (!document.ok) return document;
  return guarded(
    'a setup',
    (senseless) => [senseless],
    () => readSetup(document.value),
  );
}
