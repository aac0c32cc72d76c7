/** The lines of a song text, one by one: directives, chords among words, chords above words. */
import { readChord } from '$lib/theory/readChord';

const DIRECTIVE = /^([a-z_]+)(?:-[a-z!]+)?(?=[\s:]|$)/iu;

/** A directive in its braces, `{name: value}`: its name in small letters, and its value. */
export function directiveIn(line: string): { name: string; value: string } | undefined {
  const braced = line.trim();
  if (!braced.startsWith('{') || braced.indexOf('}') !== braced.length - 1) return undefined;
  const inner = braced.slice(1, -1).trim();
  const match = DIRECTIVE.exec(inner);
  if (match === null) return undefined;
  const [word, name = ''] = match;
  return { name: name.toLowerCase(), value: inner.slice(word.length).replace(/^\s*:?\s*/u, '') };
}

const WORD = /\S+/gu;
/** Signs that stand on a line of chords and are none. */
const BESIDE = /^(?:\||\|\||:|-|\(?[x×]\d+\)?|\*)$/u;

/** A longer line is none of a song. */
export const MOST_LINE = 20_000;

/** A line on which every word is a chord; a lone word must look like one, since “A” is a word too. */
export function isChordLine(line: string): boolean {
  const words = line.match(WORD)?.filter((word) => !BESIDE.test(word)) ?? [];
  return words.length > 0 && words.every((word) => readChord(word).ok);
}

/** A stretch of a line of words: a chord, a remark, or words. */
export type Token =
  | { readonly kind: 'chord'; readonly text: string; readonly at: number }
  | { readonly kind: 'remark' | 'words'; readonly text: string };

/** One line of song text, and where it begins. */
export interface Line {
  readonly text: string;
  readonly at: number;
}

/** The lines of a text, each with its place in it, in characters from 0. */
export function linesOf(text: string): Line[] {
  let at = 0;
  return text.split('\n').map((line) => {
    const here = { text: line.replace(/\r$/u, ''), at };
    at += line.length + 1;
    return here;
  });
}

/** Chords in brackets among words; `[*slowly]` is a remark. */
export function tokensOf({ text, at }: Line): Token[] {
  const tokens: Token[] = [];
  let from = 0;
  for (const match of text.matchAll(/\[([^\][]*)\]/gu)) {
    if (match.index > from) tokens.push({ kind: 'words', text: text.slice(from, match.index) });
    from = match.index + match[0].length;
    const inside = match[1] ?? '';
    const symbol = inside.trim();
    if (symbol.startsWith('*')) tokens.push({ kind: 'remark', text: symbol.slice(1) });
    else if (symbol !== '')
      tokens.push({
        kind: 'chord',
        text: symbol,
        at: at + match.index + 1 + inside.indexOf(symbol),
      });
  }
  if (from < text.length) tokens.push({ kind: 'words', text: text.slice(from) });
  return tokens;
}

/** A line of chords over the words below it, column by column. */
export function tokensAbove({ text, at }: Line, below: string): Token[] {
  const chords = [...text.matchAll(WORD)].filter((word) => !BESIDE.test(word[0]));
  const words = (from: number, to?: number): Token[] => {
    const here = below.slice(from, to);
    return here === '' ? [] : [{ kind: 'words', text: here }];
  };
  return [
    ...words(0, chords[0]?.index),
    ...chords.flatMap((word, index): Token[] => [
      { kind: 'chord', text: word[0], at: at + word.index },
      ...words(word.index, chords[index + 1]?.index),
    ]),
  ];
}

/** Whether words of a song stand on a line. */
export const isWords = (line: Line | undefined): line is Line =>
  line !== undefined &&
  line.text.trim() !== '' &&
  line.text.length <= MOST_LINE &&
  directiveIn(line.text) === undefined &&
  !/^\s*[#[]/u.test(line.text) &&
  !isChordLine(line.text);
