/**
 * What is said of a piece at the head of its text, a line each: `title: Lantern`. Read, changed and taken
 * away without touching the rest, so that fields may stand for those lines.
 */
import { HEAD, holdsNoChord } from './textSigns';

/** In the order in which they stand. */
export const HEAD_NAMES = ['title', 'key', 'tempo', 'metre'] as const;
export type HeadName = (typeof HEAD_NAMES)[number];

const nameIn = (line: string): HeadName | undefined => {
  const word = HEAD.exec(line)?.[1]?.toLowerCase();
  const name = word === 'meter' || word === 'time' ? 'metre' : word;
  return HEAD_NAMES.find((each) => each === name);
};

/** The lines with which a text begins that speak of the piece, and what follows; together they are the text. */
export function splitHead(text: string): { head: string; body: string } {
  let at = 0;
  for (let from = 0; from < text.length;) {
    const end = text.indexOf('\n', from);
    const next = end < 0 ? text.length : end + 1;
    const line = text.slice(from, next);
    if (nameIn(line.trimEnd()) !== undefined) at = next;
    else if (line.trim() !== '') break;
    from = next;
  }
  return { head: text.slice(0, at), body: text.slice(at) };
}

/** What a line speaks of, where it is one of the head's. */
export const headNameOf = (line: string): HeadName | undefined => nameIn(line.trimEnd());

/** A change from there on, where it stands below chords. */
const CHANGES: readonly HeadName[] = ['tempo', 'metre'];

const isChords = (line: string): boolean =>
  !/^\s*(#|$)/u.test(line) && !holdsNoChord(line.trimEnd());

/** The lines that speak of the whole piece under a name, by their places. */
function linesOf(lines: readonly string[], name: HeadName): number[] {
  const chords = CHANGES.includes(name) ? lines.findIndex(isChords) : -1;
  const before = chords < 0 ? lines : lines.slice(0, chords);
  return before.flatMap((line, at) => (headNameOf(line) === name ? [at] : []));
}

/** What a text says of the piece under a name, as it stands there; of several lines the last, which counts. */
export function headValue(text: string, name: HeadName): string {
  const lines = text.split('\n');
  const last = linesOf(lines, name).at(-1);
  return (HEAD.exec((last === undefined ? '' : lines[last])?.trimEnd() ?? '')?.[2] ?? '').trim();
}

/** The text saying something else under a name, once; nothing under it where the value is empty. */
export function withHead(text: string, name: HeadName, value: string): string {
  const said = value.replace(/\s+/gu, ' ').trim();
  const line = said === '' ? [] : [`${name}: ${said}`];
  const lines = text.split('\n');
  const own = linesOf(lines, name);
  if (own.length > 0)
    return lines
      .flatMap((each, at) => (!own.includes(at) ? [each] : at === own.at(-1) ? line : []))
      .join('\n');
  if (line.length === 0) return text;
  // behind those that are told before it
  const { head, body } = splitHead(text);
  const there = head === '' ? [] : head.replace(/\n$/u, '').split('\n');
  const order = HEAD_NAMES.indexOf(name);
  const behind = there.findLastIndex((each) => {
    const other = headNameOf(each);
    return other !== undefined && HEAD_NAMES.indexOf(other) < order;
  });
  return [...there.slice(0, behind + 1), ...line, ...there.slice(behind + 1), body].join('\n');
}
