/**
 * What is wrong with a document that people give us, as data: a code, what was found and what is
 * allowed. A code is a promise to scripts that read `gripwright check --json`: its words may change, its
 * meaning does not.
 */
import { SENTENCES, type Sentence } from './faultSentences';
import { refuse, type Fault, type Result } from './result';

export type { Listed } from './faultSentences';

type Sentences = typeof SENTENCES;

/** What kind of fault it is: the thing that is wrong, a dot, and how. */
export type FaultCode = keyof Sentences;

/** Every code that there is. */
export const FAULT_CODES = Object.keys(SENTENCES) as readonly FaultCode[];

/** A fault in a document, at the path of a value in it. */
export interface DocumentFault extends Fault {
  readonly code: FaultCode;
}

/** A fault without the place where it is. */
export type Told = Omit<DocumentFault, 'path'>;

/** What the sentence of a code is made of. */
export type SentenceOf<C extends FaultCode> = Parameters<Sentences[C]>;

/** The fault of a code, from what its sentence is made of; for documents that have no paths. */
export function told<C extends FaultCode>(code: C, ...of: Parameters<Sentences[C]>): Told {
  const sentence = SENTENCES[code] as (...of: Parameters<Sentences[C]>) => Sentence;
  const [found, allowed] = sentence(...of);
  return { found, allowed, code };
}

/** The fault of a code at a path, from what its sentence is made of. */
export const fault = <C extends FaultCode>(
  code: C,
  path: string,
  ...of: Parameters<Sentences[C]>
): DocumentFault => ({ path, ...told(code, ...of) });

/**
 * The one guard that readers of documents stand behind: what is thrown at a document, by a library or at
 * a limit of the machine, is the fault of a document that cannot be read. `what` is what would be right
 * (“a tune in ABC notation”), and `refused` makes the reader's own kind of refusal of the fault.
 */
export function guarded<T, E>(
  what: string,
  refused: (fault: DocumentFault) => E,
  read: () => Result<T, E>,
): Result<T, E> {
  try {
    return read();
  } catch {
    return refuse(refused(fault('file.senseless', '', what)));
  }
}

/** The fault of a file by the file's name: where, what was found, what is allowed. */
export const fileFaultText = (name: string, { path, ...fault }: DocumentFault): string =>
  faultText({ ...fault, path: path === '' ? name : `${name}, ${path}` });

/** One fault as a sentence: where, what was found, what is allowed. */
export const faultText = ({ path, found, allowed }: Fault): string =>
  `${path === '' ? 'The file' : path}: found ${found}; allowed is ${allowed}.`;
