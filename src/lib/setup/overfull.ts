/**
 * A document with far more in it than any setup has is told by its fullest part, and not looked at
 * any closer: a million wrong strings are one fault, not a million sentences.
 */
import type { DocumentFault } from '$lib/faults';
import { fault } from '$lib/setupFaults';
import { shapeFault } from './shapeFaults';

/** The fullest setup that the bounds allow has less than half as many values. */
const MOST_VALUES = 50_000;

interface Part {
  readonly value: object;
  readonly within: Part | undefined;
  readonly key: string;
}

/** The fault of a parsed document that holds far more than any setup; `undefined` for all others. */
export function overfull(document: unknown): DocumentFault | undefined {
  if (typeof document !== 'object' || document === null) return undefined;
  let fullest: Part = { value: document, within: undefined, key: '' };
  let most = 0;
  let values = 0;
  // a list of what is still to be looked at, since a document may be deeper than calls can go
  const waiting: Part[] = [fullest];
  for (let part = waiting.pop(); part !== undefined; part = waiting.pop()) {
    const within = part;
    const size = (Array.isArray(part.value) ? part.value : Object.keys(part.value)).length;
    values += size;
    if (size > most) {
      most = size;
      fullest = part;
    }
    if (values > MOST_VALUES) return faultAt(fullest, most);
    for (const [key, value] of Object.entries(part.value) as [string, unknown][])
      if (typeof value === 'object' && value !== null) waiting.push({ value, within, key });
  }
  return undefined;
}

function faultAt(fullest: Part, size: number): DocumentFault {
  let path = '';
  let depth = 0;
  for (let part = fullest; part.within !== undefined; part = part.within, depth++) {
    const step = Array.isArray(part.within.value) ? `[${part.key}]` : `.${part.key}`;
    path = step + path;
  }
  path = path.replace(/^\./, '');
  // what is lost in the depths, or is small, says nothing of where the fault is
  if (size < 100 || depth > 10 || path.length > 200) return fault('setup.tooMuch', '');
  if (path === '') return fault('setup.tooMuch', '', size);
  const told = shapeFault(path, fullest.value);
  return Array.isArray(fullest.value) ? told : fault('keys.tooMany', path, size, told.allowed);
}
