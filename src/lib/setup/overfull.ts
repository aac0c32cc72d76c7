/**
 * A document with far more in it than any setup has is told by its fullest place, and not looked at
 * any closer: a million wrong strings are one fault, not a million sentences.
 */
import { fault, type DocumentFault } from '$lib/faults';
import { shapeFault } from './shapeFaults';

/** The fullest setup that the bounds allow has less than half as many values. */
const MOST_VALUES = 50_000;

interface Place {
  readonly value: object;
  readonly within: Place | undefined;
  readonly key: string;
}

/** The fault of a parsed document that holds far more than any setup; `undefined` for all others. */
export function overfull(document: unknown): DocumentFault | undefined {
  if (typeof document !== 'object' || document === null) return undefined;
  let fullest: Place = { value: document, within: undefined, key: '' };
  let most = 0;
  let values = 0;
  // a list of what is still to be looked at, since a document may be deeper than calls can go
  const waiting: Place[] = [fullest];
  for (let place = waiting.pop(); place !== undefined; place = waiting.pop()) {
    const within = place;
    const size = (Array.isArray(place.value) ? place.value : Object.keys(place.value)).length;
    values += size;
    if (size > most) {
      most = size;
      fullest = place;
    }
    if (values > MOST_VALUES) return faultAt(fullest, most);
    for (const [key, value] of Object.entries(place.value) as [string, unknown][])
      if (typeof value === 'object' && value !== null) waiting.push({ value, within, key });
  }
  return undefined;
}

function faultAt(fullest: Place, size: number): DocumentFault {
  let path = '';
  let depth = 0;
  for (let place = fullest; place.within !== undefined; place = place.within, depth++) {
    const step = Array.isArray(place.within.value) ? `[${place.key}]` : `.${place.key}`;
    path = step + path;
  }
  path = path.replace(/^\./, '');
  // what is lost in the depths, or is small, says nothing of where the fault is
  if (size < 100 || depth > 10 || path.length > 200) return fault('setup.tooMuch', '');
  if (path === '') return fault('setup.tooMuch', '', size);
  const told = shapeFault(path, fullest.value);
  return Array.isArray(fullest.value) ? told : fault('keys.tooMany', path, size, told.allowed);
}
