/**
 * Where everything on the neck is drawn. All lengths are CSS pixels unless a name says otherwise;
 * x runs from the left edge of the drawing, y from its top.
 */
import { chromaOf } from '$lib/theory/pitch';
import { fretMm } from '$lib/setup/setup';
import type { Spacing } from './neckView';

export interface NeckGeometry {
  readonly spacing: Spacing;
  readonly frets: number;
  readonly width: number;
  readonly height: number;
  /** Between one string and the next; also the height of a string's target. */
  readonly rowHeight: number;
  /** The x of the nut. */
  readonly nutX: number;
  /** The x where the fretboard ends, a little beyond the last fret. */
  readonly boardEndX: number;
  /** From the nut to the last fret. */
  readonly runPx: number;
  /** The board's far and near edges. */
  readonly boardTop: number;
  readonly boardBottom: number;
  readonly discPx: number;
  readonly barPx: number;
}

/** From one x of the drawing to another. */
export type Stretch = readonly [from: number, to: number];

/** The bar's nose reaches this far beyond the middle of string 1. */
const NOSE = 19;
/** … and its butt this far beyond the middle of the last string. */
const BUTT = 16;
/** For the fret numbers along the near edge. */
const NUMBERS = 28;
/** Above string 1, so that the bar's nose is seen whole. */
const TOP = 8;
/**
 * Strings lie as close as fingers can tell them apart, so that the neck leaves room for what is under it;
 * on a tall page they lie wider. WCAG 2.2 asks for 24 px.
 */
const CLOSE = 24;
/** … but for twelve on a phone lying, whose neck is seen whole with its fret numbers: 22 px is what it leaves. */
const CLOSEST = 22;
const LOW_PAGE = 400;
const TALL_PAGE = 1000;
const TALLEST_PAGE = 1300;

/**
 * The narrowest last gap: the least that can be told apart where the other gaps are wider, and a
 * finger's breadth where all are alike.
 */
const LEAST_GAP: Readonly<Record<Spacing, number>> = { true: 11, equal: 32 };
const WIDE = 700;
const EXTRA_BOARD = 14;

/** Stretch from the nut to a fret as a part (0 … 1) of the stretch to the last fret. */
export function fretShare(fret: number, frets: number, spacing: Spacing): number {
  if (frets <= 0) return 0;
  return spacing === 'equal' ? fret / frets : fretMm(fret, 1) / fretMm(frets, 1);
}

/** The run from nut to last fret for which the last gap is just wide enough. */
export function leastRun(frets: number, spacing: Spacing): number {
  return LEAST_GAP[spacing] / (1 - fretShare(frets - 1, frets, spacing) || 1);
}

/** How far apart names have to stand, in heights of their letters. */
const NAME_LINE = 1.15;

/** How far strings lie from one another, where text has its usual size. */
function stringsApart(wide: boolean, pageHeight: number, strings: number): number {
  if (pageHeight <= LOW_PAGE && strings > 10) return CLOSEST;
  if (!wide) return pageHeight >= TALL_PAGE ? CLOSE + 4 : CLOSE;
  if (pageHeight >= TALLEST_PAGE) return CLOSE + 12;
  return pageHeight >= TALL_PAGE ? CLOSE + 6 : CLOSE + 1;
}

/**
 * Lays a neck out in the room there is, on a page of that height, with names of letters that high. On a
 * narrow page the drawing is wider than the room and scrolls in its box; on paper, which nobody touches and which
 * does not scroll, it keeps to the room.
 */
export function layOutNeck(
  roomPx: number,
  strings: number,
  frets: number,
  spacing: Spacing,
  pageHeight = 900,
  lettersPx = 14,
  onPaper = false,
): NeckGeometry {
  const wide = roomPx >= WIDE;
  const nutX = wide ? 52 : 34;
  const tail = wide ? 34 : 26;
  const runPx = Math.max(
    roomPx - nutX - EXTRA_BOARD - tail,
    onPaper ? 0 : leastRun(frets, spacing),
  );
  const rowHeight = Math.max(
    stringsApart(wide, pageHeight, strings),
    Math.ceil(NAME_LINE * lettersPx),
  );
  const boardTop = TOP;
  const boardBottom = boardTop + strings * rowHeight;
  return {
    spacing,
    frets,
    width: Math.round(nutX + runPx + EXTRA_BOARD + tail),
    height: boardBottom + NUMBERS,
    rowHeight,
    nutX,
    boardEndX: nutX + runPx + EXTRA_BOARD,
    runPx,
    boardTop,
    boardBottom,
    discPx: rowHeight - 2,
    barPx: rowHeight + 9,
  };
}

/** The middle of a string; strings are numbered from 1 at the far edge. */
export const stringY = (neck: NeckGeometry, string: number): number =>
  neck.boardTop + (string - 0.5) * neck.rowHeight;

/** The x of a fret, whole or between (as under a slanted bar). */
export const fretX = (neck: NeckGeometry, fret: number): number =>
  neck.nutX + neck.runPx * fretShare(fret, neck.frets, neck.spacing);

/** The whole fret that lies nearest to an x. */
export function fretNearest(neck: NeckGeometry, x: number): number {
  let nearest = 0;
  for (let fret = 1; fret <= neck.frets; fret++) {
    if (Math.abs(fretX(neck, fret) - x) < Math.abs(fretX(neck, nearest) - x)) nearest = fret;
  }
  return nearest;
}

export interface BarPosition {
  readonly fret: number;
  /** Frets by which it lies higher at string `far`. */
  readonly slant: number;
  readonly far: number;
  readonly near: number;
}

/** The fret at which a string is stopped: f + d · (b − i) / (b − a), far string a, near string b. */
export function stoppedAt(bar: BarPosition, string: number): number {
  const { fret, slant, far, near } = bar;
  return near === far ? fret : fret + (slant * (near - string)) / (near - far);
}

export interface BarLine {
  /** Where its middle line crosses the row halfway between the first and the last string. */
  readonly x: number;
  readonly y: number;
  /** Degrees clockwise from lying straight across. */
  readonly turn: number;
  /** From nose to butt. */
  readonly length: number;
  /** From (x, y) to the nose. */
  readonly toNose: number;
}

/** The bar is straight: it runs through the two points where the slant strings are stopped. */
export function barLine(neck: NeckGeometry, bar: BarPosition, strings: number): BarLine {
  const nearX = fretX(neck, stoppedAt(bar, bar.near));
  const rise = stringY(neck, bar.near) - stringY(neck, bar.far);
  const run = rise === 0 ? 0 : fretX(neck, stoppedAt(bar, bar.far)) - nearX;
  const y = (stringY(neck, 1) + stringY(neck, strings)) / 2;
  const x = rise === 0 ? nearX : nearX + (run * (stringY(neck, bar.near) - y)) / rise;
  const stretch = rise === 0 ? 1 : Math.hypot(run, rise) / rise;
  const half = ((strings - 1) * neck.rowHeight * stretch) / 2;
  return {
    x,
    y,
    turn: rise === 0 ? 0 : (Math.atan2(run, rise) * 180) / Math.PI,
    length: 2 * half + NOSE + BUTT,
    toNose: half + NOSE,
  };
}

/** Frets that carry a mark, as on most necks; the octaves carry two. */
export const isMarked = (fret: number): boolean =>
  fret > 0 && [0, 3, 5, 7, 9].includes(chromaOf(fret));

export const isOctave = (fret: number): boolean => fret > 0 && chromaOf(fret) === 0;

/** The middle of the line of fret numbers. */
export const numbersY = (neck: NeckGeometry): number => neck.boardBottom + 15;

/** The frets whose numbers are written: every one where there is room, else the marked ones. */
export function numberedFrets(neck: NeckGeometry): number[] {
  const all = Array.from({ length: neck.frets }, (_, i) => i + 1);
  return all.filter(
    (fret) => isMarked(fret) || fretX(neck, fret + 1) - fretX(neck, fret) >= (fret < 9 ? 16 : 22),
  );
}

/** The x of a string's tuning post; neighbours stand staggered on the keyhead. */
export const postX = (neck: NeckGeometry, string: number): number =>
  neck.nutX * (string % 2 === 1 ? 0.26 : 0.54);

/** How thick a string is drawn, for a diameter in inches; close to life on a wide page. */
export const stringPx = (gaugeInches = 0.02): number =>
  Math.min(5, Math.max(0.9, gaugeInches * 68));

/** How wide a disc is: round for one or two signs, longer for more. */
export function discWidth({ discPx }: NeckGeometry, text: string): number {
  const signs = [...text].length;
  return discPx + Math.max(0, signs - 2) * 9 + (signs > 1 && discPx < 26 ? 5 : 0);
}

/** How far to scroll a box so that x keeps a margin from both edges; unchanged where it does. */
export function scrolledTo(x: number, scrolled: number, left: number, right: number): number {
  const margin = Math.min(72, (right - left) / 3);
  if (x - scrolled < left + margin) return Math.max(0, x - left - margin);
  if (x - scrolled > right - margin) return x - right + margin;
  return scrolled;
}
