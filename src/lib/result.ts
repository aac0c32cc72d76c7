/**
 * Input that people give us ends in one of two values: what it means, or what is wrong with it.
 * Exceptions are for our own mistakes.
 */
export type Result<T, E> =
  | { readonly ok: true; readonly value: T }
  | { readonly ok: false; readonly error: E };

export const ok = <T>(value: T): Result<T, never> => ({ ok: true, value });
export const refuse = <E>(error: E): Result<never, E> => ({ ok: false, error });

/** One fault in a document: where it is, what was found there, what would be right. */
export interface Fault {
  /** A path such as `controls[2].pulls[0].string`; empty for the document as a whole. */
  readonly path: string;
  readonly found: string;
  readonly allowed: string;
}
