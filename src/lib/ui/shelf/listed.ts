/** A document as lists have it. */
import type { DocumentFault } from '$lib/faults';
import { ok, type Result } from '$lib/result';
import type { Head } from '$lib/storage/disk';
import type { Kind } from '$lib/storage/kind';
import type { OpenDocument } from './openDocument.svelte';

export interface ListedDocument<T> {
  readonly id: string;
  readonly name: string;
  readonly revision: number;
  /** Milliseconds since 1970. */
  readonly changed: number;
  readonly deleted: boolean;
  /** It is on the device, and not only in this tab. */
  readonly lasting: boolean;
  /** As it is saved, whether it can be read or not. */
  readonly text: string;
  readonly value: Result<T, readonly DocumentFault[]>;
}

/** What is on the device; its text is read when it is asked for, and once. */
export class OnDevice<T> implements ListedDocument<T> {
  readonly id: string;
  readonly name: string;
  readonly revision: number;
  readonly changed: number;
  readonly deleted: boolean;
  readonly lasting = true;
  readonly text: string;
  readonly #kind: Kind<T>;
  #value: Result<T, readonly DocumentFault[]> | undefined;

  constructor(kind: Kind<T>, { entry, step }: Head, before?: OnDevice<T>) {
    this.id = entry.id;
    this.name = entry.name;
    this.revision = entry.revision;
    this.changed = entry.changed;
    this.deleted = entry.deleted !== undefined;
    this.text = step.text;
    this.#kind = kind;
    if (before?.text === this.text) this.#value = before.#value;
  }

  get value(): Result<T, readonly DocumentFault[]> {
    this.#value ??= this.#kind.read(this.text);
    return this.#value;
  }
}

/** A document that is open, which the device may not have taken yet. */
export function listedOf<T>(kind: Kind<T>, open: OpenDocument<T>): ListedDocument<T> {
  const { id, name, changed, deleted, lasting, value } = open;
  return {
    id,
    name,
    changed,
    deleted,
    lasting,
    revision: 0,
    text: kind.write(value),
    value: ok(value),
  };
}
