/**
 * What can be read of records that lie on the device, whatever has happened to them: a browser may have
 * written half of a history, or another program something of its own. What is whole stays as it is.
 */
import { isRecord } from '$lib/setup/parsed';
import {
  headOf,
  stepAt,
  type Entry,
  type Loss,
  type Step,
  type StoredDocument,
  type Version,
} from './storedDocument';

export interface RawDocument {
  readonly id: string;
  readonly entry: unknown;
  readonly steps: readonly unknown[];
  readonly versions: readonly unknown[];
}

/** A document of which nothing can be shown, as it lies there. */
export interface Damaged {
  readonly id: string;
  readonly name: string;
  /** `undefined` where its line in the list does not say. */
  readonly kind: string | undefined;
  /** All its records as JSON, for a file. */
  readonly text: string;
  /** Where only its line in the list is lost: its history, for whoever knows the kind. */
  readonly history?: readonly Step[];
}

const isCount = (value: unknown, least: number): value is number =>
  Number.isSafeInteger(value) && (value as number) >= least;
const textOr = (value: unknown, other: string): string =>
  typeof value === 'string' ? value : other;
const timeOr = (value: unknown, other: number): number =>
  typeof value === 'number' && Number.isFinite(value) ? value : other;

/** The revision of an entry; 0 where it says none. */
export const revisionOf = (entry: unknown): number =>
  isRecord(entry) && isCount(entry.revision, 0) ? entry.revision : 0;

/** A step whose text is there. One that does not follow an earlier step follows the one before it. */
export function stepIn(raw: unknown): Step | undefined {
  if (!isRecord(raw) || !isCount(raw.number, 1) || typeof raw.text !== 'string') return undefined;
  const { number, after, text } = raw;
  return {
    number,
    after: isCount(after, 0) && after < number ? after : number - 1,
    label: textOr(raw.label, 'an edit'),
    at: timeOr(raw.at, 0),
    name: textOr(raw.name, ''),
    text,
  };
}

function entryIn(raw: unknown, id: string, steps: readonly Step[]): Entry | undefined {
  if (!isRecord(raw) || typeof raw.kind !== 'string') return undefined;
  const wanted = isCount(raw.head, 1) ? raw.head : Infinity;
  const head = steps.findLast(({ number }) => number <= wanted) ?? steps[0];
  if (head === undefined) return undefined;
  const changed = timeOr(raw.changed, head.at);
  return {
    id,
    kind: raw.kind,
    // an earlier step may have had another name
    name: head.number === wanted ? textOr(raw.name, head.name) : head.name,
    revision: revisionOf(raw),
    head: head.number,
    made: timeOr(raw.made, changed),
    changed,
    ...(raw.deleted === undefined ? {} : { deleted: timeOr(raw.deleted, changed) }),
    ...(raw.clean === true ? { clean: true as const } : {}),
  };
}

function versionIn(raw: unknown, steps: readonly Step[]): Version[] {
  if (!isRecord(raw) || !isCount(raw.number, 1) || !isCount(raw.step, 1)) return [];
  const { number, step } = raw;
  const near = steps.findLast((each) => each.number <= step);
  if (near === undefined) return [];
  return [{ number, step: near.number, name: textOr(raw.name, ''), at: timeOr(raw.at, 0) }];
}

/** The document of some records; `undefined` where none of its steps can be read. */
export function recovered({ id, entry, steps, versions }: RawDocument): StoredDocument | undefined {
  const read = steps.flatMap((raw) => stepIn(raw) ?? []).sort((a, b) => a.number - b.number);
  const known = entryIn(entry, id, read);
  return (
    known && {
      entry: known,
      steps: read,
      versions: versions.flatMap((raw) => versionIn(raw, read)),
    }
  );
}

/**
 * What a document that was read has lost, `near` steps back: its line in the list or a later step names one
 * that is not there.
 *
 * @param head what its line says of the step that is shown
 */
export function lossOf(stored: StoredDocument, head: unknown, near: number): Loss | undefined {
  if (!isCount(head, 1)) return 'place';
  if (head !== stored.entry.head) return 'newest';
  let step = headOf(stored);
  for (let back = 0; back < near && step.after !== 0; back++) {
    const before = stepAt(stored, step.after);
    if (before === undefined) return 'past';
    step = before;
  }
  return undefined;
}

/** Records as a file says them. */
function rawText(raw: RawDocument): string {
  try {
    return JSON.stringify(raw, undefined, 2);
  } catch {
    // something that no file can say, a ring of objects for one
    return JSON.stringify({ id: raw.id, steps: raw.steps.map((step) => stepIn(step)) });
  }
}

export const damagedOf = (raw: RawDocument): Damaged => {
  const history = raw.steps.flatMap((step) => stepIn(step) ?? []);
  const name = isRecord(raw.entry) ? textOr(raw.entry.name, raw.id) : raw.id;
  return {
    id: raw.id,
    name: history.at(-1)?.name ?? name,
    kind: isRecord(raw.entry) && typeof raw.entry.kind === 'string' ? raw.entry.kind : undefined,
    text: rawText(raw),
    ...(history.length === 0 ? {} : { history }),
  };
};
