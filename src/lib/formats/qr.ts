/** A text as a QR code (ISO/IEC 18004), drawn as an outline: it stays sharp in whatever size it is printed. */
import { encode } from 'uqr';
import type { PathMark, PathStep } from './drawing';

/** White around a code, in modules (ISO/IEC 18004, 6.3.8). */
const QUIET_MODULES = 4;
/** The side of a module: what the camera of a telephone tells apart from a hand's width. */
const MODULE_MM = 0.4;
/** A short text needs few modules; they are larger then. */
const LEAST_MM = 22;
/** 145 modules a side; what needs more is too dense for paper. */
const MOST_VERSION = 32;
/** Byte mode, error correction L: what a code of version 32 holds (ISO/IEC 18004, table 7). */
const MOST_BYTES = 1952;

/** A code that has been made. */
export interface Code {
  /** By row, from the top: is the module dark? Without the white around it. */
  readonly rows: readonly (readonly boolean[])[];
  /** The side with the white around it, in millimetres. */
  readonly sideMm: number;
}

/**
 * The code of a text, with as much error correction as its size has room for; `undefined` where it would have to
 * be denser than can be read from paper.
 */
export function codeOf(text: string): Code | undefined {
  if (new TextEncoder().encode(text).length > MOST_BYTES) return undefined;
  const { data } = encode(text, {
    ecc: 'L',
    boostEcc: true,
    border: 0,
    maxVersion: MOST_VERSION,
  });
  const modules = data.length + 2 * QUIET_MODULES;
  return { rows: data, sideMm: Math.max(LEAST_MM, modules * MODULE_MM) };
}

/** Neighbours overlap by so much, so that no hair of white shows between them. */
const OVERLAP = 0.02;

/** The dark modules of a code as one outline; x and y are the corner of the white around it, in millimetres. */
export function codeMark({ rows, sideMm }: Code, x: number, y: number): PathMark {
  const module = sideMm / (rows.length + 2 * QUIET_MODULES);
  const steps: PathStep[] = [];
  rows.forEach((row, at) => {
    const top = y + (at + QUIET_MODULES) * module;
    const bottom = top + (1 + OVERLAP) * module;
    for (let from = 0; from < row.length; from++) {
      if (row[from] !== true) continue;
      let to = from;
      while (row[to] === true) to++;
      const left = x + (from + QUIET_MODULES) * module;
      const right = x + (to + QUIET_MODULES) * module;
      steps.push(
        ['M', left, top],
        ['L', right, top],
        ['L', right, bottom],
        ['L', left, bottom],
        ['Z'],
      );
      from = to;
    }
  });
  return { kind: 'path', steps, fill: 1 };
}
