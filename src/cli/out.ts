/** Where the command line's words go: answers to stdout, everything else to stderr. */

/** 0 done, 1 asked for something impossible or a refused file, 2 wrong usage. */
export type ExitCode = 0 | 1 | 2;

/** Ends a job with a sentence for the person who called it. */
export class Refusal extends Error {
  readonly code: ExitCode;
  constructor(sentences: string | readonly string[], code: ExitCode) {
    super(typeof sentences === 'string' ? sentences : sentences.join('\n'));
    this.code = code;
  }
}

/** One or more lines of the answer. */
export const print = (text: string): void => {
  process.stdout.write(`${text}\n`);
};

/** An answer as one JSON document. */
export const printJson = (value: unknown): void => {
  print(JSON.stringify(value, null, 2));
};

/**
 * One JSON document whose last key is a long list, written item by item: all voicings of a large
 * setup are more text than one string can hold.
 */
export function printJsonList(
  head: Readonly<Record<string, unknown>>,
  key: string,
  items: Iterable<unknown>,
): void {
  const start = JSON.stringify({ ...head, [key]: [] }, null, 2);
  process.stdout.write(start.slice(0, start.lastIndexOf(']')));
  let written = 0;
  for (const item of items) {
    // nobody reads on
    if (!process.stdout.writable) return;
    const text = JSON.stringify(item, null, 2).replaceAll('\n', '\n    ');
    process.stdout.write(`${written++ === 0 ? '' : ','}\n    ${text}`);
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
  const lines = [heading, ...rows];
  const widths = heading.map((_, column) =>
    Math.max(...lines.map((line) => widthOf(line[column] ?? ''))),
  );
  const pad = (text: string, column: number): string => {
    const space = ' '.repeat(Math.max(0, (widths[column] ?? 0) - widthOf(text)));
    return right.includes(column) ? space + text : text + space;
  };
  return lines.map((line) => line.map(pad).join('  ').trimEnd()).join('\n');
}
