/** A piece as its fields and its one line show it. */
import { headNameOf, splitHead } from '$lib/arrange/headText';
import type { ProgressionFault } from '$lib/arrange/progression';
import { holdsNoChord } from '$lib/arrange/textSigns';
import { TextPlaces } from '$lib/arrange/textPlace';
import { capitalised } from '$lib/ui/parts/words';

/** The measures on one line: line breaks that are measure lines become such. */
export function oneLine(body: string): string {
  const lines = body
    .split('\n')
    .map((line) => line.trim())
    .filter((line) => line !== '');
  return lines.reduce((before, line) => {
    const barred = /\|:?$|^:?\|/u.test(before.slice(-2)) || line.startsWith('|');
    const between = before === '' ? '' : holdsNoChord(line) || barred ? ' ' : ' | ';
    return before + between + line;
  }, '');
}

/** What could not be read: a sentence, and texts of the piece in which it is what was likely meant. */
export interface Unread {
  readonly sentence: string;
  readonly readings: readonly { readonly chord: string; readonly text: string }[];
}

/** What could not be read, as sentences: in a field by its name, else by the place in what is written under them. */
export function unreadIn(text: string, faults: readonly ProgressionFault[]): Unread[] {
  const { head, body } = splitHead(text);
  const places = new TextPlaces(body);
  return faults.map(({ where, mark, found, allowed, meant = [] }) => {
    const at = mark?.at ?? 0;
    const from = head.lastIndexOf('\n', Math.max(0, at - 1)) + 1;
    const name = headNameOf(head.slice(from, head.indexOf('\n', from)));
    const place =
      mark === undefined
        ? where
        : at < head.length && name !== undefined
          ? name
          : places.at(Math.max(0, at - head.length));
    return {
      sentence: `${capitalised(place)}: found ${found}; allowed is ${allowed}.`,
      readings: meant.map((chord) => ({
        chord,
        text: text.slice(0, at) + chord + text.slice(at + (mark?.length ?? 0)),
      })),
    };
  });
}
