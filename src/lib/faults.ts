/**
 * What is wrong with a document that people give us, as data: a code, what was found and what is
 * allowed. A code is a promise to scripts that read `gripwright check --json`: its words may change, its
 * meaning does not.
 *
 * The sentences stand in tables by what they speak of (`documentFaults.ts`, `setupFaults.ts`, …), so that a
 * page fetches those alone that its own readers can need.
 */
import type { FAULT_CODES } from './faultCodes';
import type { Fault } from './result';

/** What was found, and what would be right there. */
export type Sentence = readonly [found: string, allowed: string];

/** Rows by codes; each takes what its sentence is made of. */
export type Sentences = Readonly<Record<string, (...of: never[]) => Sentence>>;

/** What kind of fault it is: the thing that is wrong, a dot, and how. */
export type FaultCode = (typeof FAULT_CODES)[number];

/** A fault in a document, at the path of a value in it. */
export interface DocumentFault extends Fault {
  readonly code: FaultCode;
}

/** A fault without the place where it is. */
export type Told = Omit<DocumentFault, 'path'>;

/** How faults are made of the rows of a table. */
export interface Faults<T extends Sentences> {
  /** The fault of a code, from what its sentence is made of; for documents that have no paths. */
  told<C extends keyof T & FaultCode>(this: void, code: C, ...of: Parameters<T[C]>): Told;
  /** The fault of a code at a path, from what its sentence is made of. */
  fault<C extends keyof T & FaultCode>(
    this: void,
    code: C,
    path: string,
    ...of: Parameters<T[C]>
  ): DocumentFault;
}

export function faultsOf<T extends Sentences>(table: T): Faults<T> {
  const told: Faults<T>['told'] = (code, ...of) => {
    const [found, allowed] = (table[code] as (...of: unknown[]) => Sentence)(...of);
    return { found, allowed, code };
  };
  return { told, fault: (code, path, ...of) => ({ path, ...told(code, ...of) }) };
}

/** The fault of a file by the file's name: where, what was found, what is allowed. */
export const fileFaultText = (name: string, { path, ...fault }: DocumentFault): string =>
  faultText({ ...fault, path: path === '' ? name : `${name}, ${path}` });

/** One fault as a sentence: where, what was found, what is allowed. */
export const faultText = ({ path, found, allowed }: Fault): string =>
  `${path === '' ? 'The file' : path}: found ${found}; allowed is ${allowed}.`;
