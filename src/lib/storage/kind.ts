/**
 * What storage has to know of a kind of document: how its text is read and written. Nothing comes
 * out of storage but through the kind's own reader, which checks it and brings older formats along.
 */
import type { DocumentFault } from '$lib/faults';
import type { Result } from '$lib/result';
import { readSetupText } from '$lib/setup/readSetup';
import type { Setup } from '$lib/setup/setup';
import { isReadSetup } from '$lib/setup/setupOf';
import { setupFileOf } from '$lib/setup/writeSetup';
import type { Reading } from './reading';
import { mergeSetups } from './setupMerge';
import type { Merged, Three } from './threeWay';

export interface Kind<T> {
  readonly kind: 'setup' | 'progression' | 'practice';
  read(text: string): Result<T, readonly DocumentFault[]>;
  write(value: T): string;
  /** What the document is called in lists. */
  nameOf(value: T): string;
  named(value: T, name: string): T;
  /** The reader is known to take the value as it is: it need not go through it. */
  isRead?(value: T): boolean;
  /** Two edits of one value as one; without it, they are always of the same place. */
  merge?(three: Three<T>): Merged<T, Reading>;
}

export const setupKind: Kind<Setup> = {
  kind: 'setup',
  read: readSetupText,
  // the file without its white space
  write: (setup) => JSON.stringify(setupFileOf(setup)),
  nameOf: ({ name }) => name,
  named: (setup, name) => ({ ...setup, name }),
  isRead: isReadSetup,
  merge: mergeSetups,
};
