/**
 * Files of older formats, brought step by step to the present one when they are loaded. A step is
 * keyed by the format it starts from. Formats 2 and 3 only add to those before them, so there is none yet.
 */
import type { DocumentFault } from '$lib/faults';
import { fault } from '$lib/setupFaults';
import { ok, refuse, type Result } from '$lib/result';
import { FORMAT } from './setupFile';

type Document = Readonly<Record<string, unknown>>;
export type Step = (file: Document) => Document;

const STEPS: ReadonlyMap<number, Step> = new Map();

/** Brings a document to the present format; a newer or impossible format number is refused. */
export function migrate(
  document: unknown,
  steps: ReadonlyMap<number, Step> = STEPS,
  present: number = FORMAT,
): Result<unknown, DocumentFault> {
  if (typeof document !== 'object' || document === null || Array.isArray(document))
    return refuse(fault('document.notAnObject', '', document));
  let file = document as Document;
  let format = file['format'];
  if (typeof format === 'number' && format > present)
    return refuse(fault('format.newer', 'format', format, present));
  while (typeof format === 'number' && format < present) {
    const step = steps.get(format);
    if (step === undefined) break;
    file = step(file);
    format = file['format'];
  }
  return ok(file);
}
