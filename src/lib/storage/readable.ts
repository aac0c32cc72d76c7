/** What of a document that is kept can be read, and what is said of what cannot. */
import type { DocumentFault } from '$lib/faults';
import type { Kind } from './kind';
import type { Loss, Step, StoredDocument } from './storedDocument';

/** What is said on opening of what a history has lost. */
export const LOST: Readonly<Record<Loss, string>> = {
  newest:
    'The newest step of this is not on the device any more. What you see is the step before it; the history is kept as it is.',
  place:
    'Where in its history this was is not on the device any more. What you see is its newest step; Undo leads to those before it.',
  past: 'A step of the history of this is not on the device any more. What you see is as it was left; Undo passes over what is missing.',
};

/** The faults of a text that is stored but cannot be read (any more). */
export type Unread = readonly DocumentFault[];

/** Was it written by a newer program? Then it is whole, and none of this program's business. */
export const isOfNewerFormat = ({ code }: DocumentFault): boolean =>
  code === 'format.newer' || code === 'progression.format';

/** The newest of the steps in hand that can be read. */
export function lastReadable<T>(
  kind: Kind<T>,
  { steps }: StoredDocument,
): { readonly step: Step; readonly value: T } | undefined {
  for (const step of steps.toReversed()) {
    const read = kind.read(step.text);
    if (read.ok) return { step, value: read.value };
  }
  return undefined;
}
