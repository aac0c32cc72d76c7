/** Where the command line's words go: answers to stdout, everything else to stderr. */

import type { DocumentFault } from '$lib/faults';
import { terminal } from './terminal';

/** 0 done, 1 asked for something impossible or a refused file, 2 wrong usage. */
export type ExitCode = 0 | 1 | 2;

/** Ends a job with a sentence for the person who called it. */
export class Refusal extends Error {
  readonly code: ExitCode;
  /** What is wrong with the document that is refused, where it is one. */
  readonly faults: readonly DocumentFault[];
  constructor(
    sentences: string | readonly string[],
    code: ExitCode,
    faults: readonly DocumentFault[] = [],
  ) {
    super(typeof sentences === 'string' ? sentences : sentences.join('\n'));
    this.code = code;
    this.faults = faults;
  }
}

/** Nothing of this is a letter: it moves the cursor, rings, or turns the direction of what follows. */
const CONTROLS =
  /[\u0000-\u0008\u000b-\u001f\u007f-\u009f\u061c\u200e\u200f\u2028-\u202e\u2066-\u2069]/gu;

/** A text as a terminal may get it: names come from files, and a terminal obeys what is written to it. */
export const cleaned = (text: string): string => text.replace(CONTROLS, '\ufffd');

/** JSON in which the same signs are escaped; outside of texts there are none. */
const jsonText = (value: unknown): string =>
  JSON.stringify(value, null, 2).replace(
    CONTROLS,
    (sign) => `\\u${sign.charCodeAt(0).toString(16).padStart(4, '0')}`,
  );

/** One or more lines of the answer. */
export const print = (text: string): void => {
  terminal().out.write(`${cleaned(text)}\n`);
};

/** One or more lines beside the answer: what is wrong, and what is asked. */
export const say = (text: string): void => {
  terminal().err.write(`${cleaned(text)}\n`);
};

let answered = false;

/** What is printed from now on belongs to another call. */
export function beginAnswer(): void {
  answered = false;
}

/** An answer as one JSON document. */
export const printJson = (value: unknown): void => {
  answered = true;
  print(jsonText(value));
};

/** What went wrong as one JSON document, unless the answer that was printed tells it already. */
export function printError(error: string, faults: readonly DocumentFault[] = []): void {
  if (!answered) printJson({ error, ...(faults.length === 0 ? {} : { faults }) });
}

/**
 * One JSON document whose last key is a long list, written item by item: all voicings of a large
 * setup are more text than one string can hold.
 */
export function printJsonList(
  head: Readonly<Record<string, unknown>>,
  key: string,
  items: Iterable<unknown>,
): void {
  answered = true;
  const start = jsonText({ ...head, [key]: [] });
  const { out } = terminal();
  out.write(start.slice(0, start.lastIndexOf(']')));
  let written = 0;
  for (const item of items) {
    // nobody reads on
    if (!out.writable) return;
    const text = jsonText(item).replaceAll('\n', '\n    ');
    out.write(`${written++ === 0 ? '' : ','}\n    ${text}`);
  }
  print(written === 0 ? ']\n}' : '\n  ]\n}');
}

/** `792,000` */
export const numberText = (count: number): string => count.toLocaleString('en');

/** `1 voicing`, `978 voicings`. */
export const countText = (count: number, noun: string): string =>
  `${numberText(count)} ${noun}${count === 1 ? '' : 's'}`;

/** Says where a list goes on that is cut short by `--limit`. */
export function printShortened(shown: number, all: number, noun = ''): void {
  if (shown >= all) return;
  const things = noun === '' ? '' : ` ${noun}`;
  print(`${numberText(shown)} of ${numberText(all)}${things} shown; --limit 0 shows all.`);
}

/** Width on screen; the signs of this program are one column wide, the double accidentals too. */
const widthOf = (text: string): number => [...text].length;

/** A table with a heading line; columns named in `right` are set flush right. */
export function table(
  heading: readonly string[],
  rows: readonly (readonly string[])[],
  right: readonly number[] = [],
): string {
  // a cell is one line
  const lines = [heading, ...rows].map((line) => line.map((cell) => cell.replace(/\s/gu, ' ')));
  const widths = heading.map((_, column) =>
    Math.max(...lines.map((line) => widthOf(line[column] ?? ''))),
  );
  const pad = (text: string, column: number): string => {
    const space = ' '.repeat(Math.max(0, (widths[column] ?? 0) - widthOf(text)));
    return right.includes(column) ? space + text : text + space;
  };
  return lines.map((line) => line.map(pad).join('  ').trimEnd()).join('\n');
}

/** Columns that every terminal has room for, and a text in a mail. */
const COLUMNS = 100;

/** Parts in lines of at most a hundred columns, each line behind so many spaces; a part is never cut. */
export function inLines(parts: readonly string[], separator: string, indent: number): string {
  const lines: string[] = [];
  for (const part of parts) {
    const line = lines.at(-1);
    const longer = line === undefined ? undefined : `${line}${separator}${part}`;
    if (longer !== undefined && indent + widthOf(longer) + 1 <= COLUMNS)
      lines[lines.length - 1] = longer;
    else lines.push(part);
  }
  const end = separator.trimEnd();
  return lines
    .map((line, at) => ' '.repeat(indent) + line + (at < lines.length - 1 ? end : ''))
    .join('\n');
}
