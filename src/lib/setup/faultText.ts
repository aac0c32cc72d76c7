/** How faults are told: one way for the page and the command line. */
import type { Fault } from '$lib/result';

/** What was found, short enough for a line: `7`, `"Z9"`, `a list of 15`, `nothing`. */
export function found(value: unknown): string {
  if (value === undefined) return 'nothing';
  if (value === null) return 'null';
  if (typeof value === 'string')
    return value.length > 60 ? `a text of ${value.length} characters` : `“${value}”`;
  if (typeof value === 'number' || typeof value === 'boolean') return String(value);
  if (Array.isArray(value)) return `a list of ${value.length}`;
  return 'an object';
}

/** One fault as a sentence: where, what was found, what is allowed. */
export const faultText = (fault: Fault): string =>
  `${fault.path === '' ? 'The file' : fault.path}: found ${fault.found}; allowed is ${fault.allowed}.`;
