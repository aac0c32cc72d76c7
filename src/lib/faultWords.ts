/** Words that the sentences of faults are made of. */

/** A value, short enough for a line: `7`, `“Z9”`, `a list of 15`, `nothing`. */
export function shown(value: unknown): string {
  if (value === undefined) return 'nothing';
  if (value === null) return 'null';
  if (typeof value === 'string')
    return value.length > 60 ? `a text of ${value.length} characters` : quoted(value);
  if (typeof value === 'number' || typeof value === 'boolean') return String(value);
  if (Array.isArray(value)) return `a list of ${value.length}`;
  return 'an object';
}

/** What nobody reads to its end is cut here. */
export const LONGEST_QUOTED = 200;
/** A text whole, if it can be read at a glance. */
export const quoted = (text: string): string =>
  `“${text.length > LONGEST_QUOTED ? `${text.slice(0, LONGEST_QUOTED)}…` : text}”`;
/** A piece of a longer text, which may be empty. */
export const piece = (text: string): string =>
  text.trim() === '' ? shown(undefined) : quoted(text.trim());
export const count = (of: number, noun: string): string =>
  of === 1 ? `one ${noun}` : `${of} ${noun}s`;

export const range = (from: number, to: number): string =>
  from === to ? `${from}` : `${from} to ${to}`;
export const whole = (least: number, most: number): string =>
  `a whole number from ${least} to ${most}`;
export const real = (least: number, most: number): string => `a number from ${least} to ${most}`;
export const listed = (names: readonly string[]): string =>
  [names.slice(0, -1).join(', '), names.at(-1)].filter(Boolean).join(' and ');

export const A_CHORD_TYPE = 'a chord type such as m7, 6/9 or maj, each once';
