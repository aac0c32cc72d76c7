/** The physics of a stretched string, one formula a function. */
import type { Wire } from './wire';
import { STEEL_EXPANSION } from './wireData';

/** Mersenne: T = μ(2Lf)², in newtons. */
export const tensionN = (massPerM: number, lengthMm: number, hz: number): number =>
  massPerM * ((2 * lengthMm * hz) / 1000) ** 2;

/** Pitch goes with the root of tension: n semitones are a factor of 2^(n/6). */
export const tensionFactor = (semitones: number): number => 2 ** (semitones / 6);

/** Semitones by which the pitch rises when the tension grows by a factor. */
export const semitonesOf = (factor: number): number => 6 * Math.log2(factor);

/**
 * Millimetres by which the steel is drawn out when its tension changes: ΔL = L·ΔT/(E·A), over all of
 * the wire that stretches along.
 */
export const stretchMm = (wire: Wire, wireMm: number, changeN: number): number =>
  (wireMm * changeN) / (wire.modulusMpa * wire.areaMm2);

/** Work on a string drawn out or let go by an amount, in joules: mean tension × way. */
export const workJ = (fromN: number, toN: number, mm: number): number =>
  (((fromN + toN) / 2) * Math.abs(mm)) / 1000;

/**
 * Cents by which a string moves when it grows warmer by a kelvin between ends that stay where they
 * are: −(600/ln 2)·Eα/σ.
 */
export const centsPerKelvin = (wire: Wire, tension: number): number =>
  (-600 / Math.LN2) * ((wire.modulusMpa * STEEL_EXPANSION) / (tension / wire.areaMm2));
