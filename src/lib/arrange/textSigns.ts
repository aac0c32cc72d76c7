/** What is which in the text of a piece: heads, melodies, bar lines, signs. */
import type { Measure } from './piece';

/** A line that says something of the piece: what, and what of it. */
export const HEAD = /^\s*(title|key|tempo|metre|meter|time|pickup)\s*[:=]\s*(.*)$/iu;
/** A line of melody notes: how it begins, and the notes. */
export const MELODY = /^(\s*melody\s*[:=])(.*)$/iu;
const SECTION = /^\s*\[[^\]|]*\]\s*$/u;

/** A line behind which no chord can stand: it says something of the piece, or of the chords above it. */
export const holdsNoChord = (line: string): boolean =>
  HEAD.test(line) || MELODY.test(line) || SECTION.test(line);

/** A bar line, a section mark, or a word: a chord may hold spaces inside its round brackets. */
export const TOKENS =
  /:?\|+\]?:?(?:\s*[x×]\s*\d+)?(?:\d(?:[,-]\d)*\.)?|\((?:[^()|]*)\)(?=\s|\||$)|\[[^\]|]*\]?|(?:\([^()|]*\)|[^\s|[(:]|:(?!\|)|\()+/gu;
/** What is which in the text of a piece. */
export const PIECE_SIGNS = { head: HEAD, melody: MELODY, tokens: TOKENS, holdsNoChord } as const;
export type PieceSigns = typeof PIECE_SIGNS;
/** How often a section is played, at the end of its bar line: `x3`. */
export const REPEAT = /[x×]\s*(\d+)$/u;

/** A line of the writer's own, and its words. */
export const REMARK = /^\s*#\s?(.*)$/u;

/** Every line that sets the tempo, wherever it stands. */
export const TEMPO_LINE = /^\s*tempo\s*[:=]/gimu;

/** What makes a text more than bars in a row: endings, and signs that lead elsewhere. */
export const FORMED = /\|\d(?:[,-]\d)*\.|\(\s*d\.?\s?[cs]\b/iu;

/** A sign of the form. */
export type FormSign = Pick<Measure, 'segno' | 'coda' | 'toCoda' | 'fine' | 'jump'>;

/** Signs in brackets, in small letters without dots. */
const SIGNS: Readonly<Record<string, FormSign>> = {
  segno: { segno: true },
  coda: { coda: true },
  'to coda': { toCoda: true },
  fine: { fine: true },
  dc: { jump: { to: 'beginning', until: 'end' } },
  'dc al fine': { jump: { to: 'beginning', until: 'fine' } },
  'dc al coda': { jump: { to: 'beginning', until: 'coda' } },
  ds: { jump: { to: 'segno', until: 'end' } },
  'ds al fine': { jump: { to: 'segno', until: 'fine' } },
  'ds al coda': { jump: { to: 'segno', until: 'coda' } },
};

/** The sign that words in brackets name, in any case and with or without dots; `undefined` where they name none. */
export const signNamed = (text: string): FormSign | undefined =>
  SIGNS[
    text
      .replace(/[().]/gu, '')
      .replace(/\s+/gu, ' ')
      .trim()
      .toLowerCase()
      .replace(/^d ([cs])/u, 'd$1')
  ];
