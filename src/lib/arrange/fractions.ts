/** Whole parts of bars and notes. */
import { quartersOf, type Metre } from './progression';

/** Every division by 2 to 16 comes out whole. */
const FINE = 720_720;

/** The greatest common divisor of two whole numbers. */
export const divisor = (a: number, b: number): number => (b === 0 ? a : divisor(b, a % b));

/** So many parts, of which `over` are one whole; both are whole numbers, `over` above 0. */
export interface Fraction {
  readonly parts: number;
  readonly over: number;
}

/** In its lowest terms. */
export function reduced(parts: number, over: number): Fraction {
  const common = divisor(parts, over);
  return { parts: parts / common, over: over / common };
}

/** The fraction that a bar's `part` stands for. */
export const fractionOf = (part: number): Fraction => reduced(Math.round(part * FINE), FINE);

/** The metre of a bar that lasts so much of a bar of another, over the same unit or a finer one. */
export function metreOfPart({ beats, unit }: Metre, part = 1): Metre {
  const whole = fractionOf(part);
  const { parts, over } = reduced(beats * whole.parts, whole.over);
  let finer = 1;
  while ((parts * finer) % over !== 0 && unit * finer < 32) finer *= 2;
  return { beats: Math.max(1, Math.round((parts * finer) / over)), unit: unit * finer };
}

/** How much of a bar of a metre a bar of another metre is. */
export const partOfMetre = (whole: Metre, other: Metre): number =>
  quartersOf(other) / quartersOf(whole);
