/**
 * What is drawn on paper, before anybody asks for SVG, PDF or a printer: pages in millimetres from
 * the top left corner, type in points, one ink in several strengths. Marks lie over those before them.
 */
import type { Weight } from './type/faces';

/** A point is the 72nd part of an inch, and an inch 25.4 mm. */
export const MM_PER_POINT = 25.4 / 72;

/** The papers that there are. */
export const PAPERS = ['A4', 'Letter'] as const;
export type Paper = (typeof PAPERS)[number];
/** Is a text the name of a paper? */
export const isPaper = (text: string): text is Paper =>
  (PAPERS as readonly string[]).includes(text);

/** Portrait, in millimetres: ISO 216, and 8.5 × 11 inches (ANSI/ASME Y14.1). */
export const PAPER_MM: Readonly<Record<Paper, readonly [width: number, height: number]>> = {
  A4: [210, 297],
  Letter: [215.9, 279.4],
};

/** From 0, the white of the paper, to 1, black. */
export type Ink = number;

export interface TextMark {
  readonly kind: 'text';
  readonly x: number;
  /** The baseline. */
  readonly y: number;
  readonly text: string;
  readonly sizePt: number;
  readonly weight: Weight;
  readonly align: 'start' | 'middle' | 'end';
  readonly ink: Ink;
}

export interface LineMark {
  readonly kind: 'line';
  readonly from: readonly [x: number, y: number];
  readonly to: readonly [x: number, y: number];
  readonly widthMm: number;
  readonly ink: Ink;
}

export interface BoxMark {
  readonly kind: 'box';
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
  readonly fill: Ink;
}

export interface DiscMark {
  readonly kind: 'disc';
  readonly x: number;
  readonly y: number;
  readonly radius: number;
  readonly fill: Ink;
}

/** A step of an outline, in millimetres: go to, a straight line, a cubic curve with its two handles, and close. */
export type PathStep =
  | readonly ['M' | 'L', number, number]
  | readonly ['C', number, number, number, number, number, number]
  | readonly ['Z'];

/** A filled outline, as music signs are. */
export interface PathMark {
  readonly kind: 'path';
  readonly steps: readonly PathStep[];
  readonly fill: Ink;
}

export type Mark = TextMark | LineMark | BoxMark | DiscMark | PathMark;

export interface Page {
  readonly width: number;
  readonly height: number;
  readonly marks: readonly Mark[];
}

export interface Drawing {
  readonly title: string;
  readonly pages: readonly Page[];
}

/**
 * A text as it can stand on a line of paper: composed letters, no breaks or control characters, and
 * nothing that XML 1.0 forbids.
 */
export function lineOf(text: string): string {
  return text
    .normalize('NFC')
    .replace(/[\p{Cc}\p{Zl}\p{Zp}\s]+/gu, ' ')
    .replace(/[\p{Cs}\uFFFE\uFFFF]/gu, '\uFFFD');
}

const GREY: Ink = 0.66;
const HAIRLINE_MM = 0.15;

interface Style {
  readonly weight?: Weight;
  readonly align?: TextMark['align'];
  readonly grey?: boolean;
}

/** A line of words at a point of its baseline, both in millimetres. */
export const text = (
  x: number,
  y: number,
  words: string,
  sizePt: number,
  { weight = 'regular', align = 'start', grey = false }: Style = {},
): TextMark => ({
  kind: 'text',
  x,
  y,
  text: lineOf(words),
  sizePt,
  weight,
  align,
  ink: grey ? GREY : 1,
});

/** A stroke between two points, in millimetres; a hairline unless told otherwise. */
export const line = (
  from: readonly [number, number],
  to: readonly [number, number],
  widthMm = HAIRLINE_MM,
  ink: Ink = 1,
): LineMark => ({ kind: 'line', from, to, widthMm, ink });

/** A filled box by its top left corner, width and height in millimetres. */
export const box = (
  x: number,
  y: number,
  width: number,
  height: number,
  fill: Ink = 1,
): BoxMark => ({ kind: 'box', x, y, width, height, fill });

/** A filled disc by its centre and radius in millimetres. */
export const disc = (x: number, y: number, radius: number, fill: Ink = 1): DiscMark => ({
  kind: 'disc',
  x,
  y,
  radius,
  fill,
});
