/** How far a struck string has fallen by now. Pure. */

/** Decibels that the partials above the fundamental add to the fall, which die away sooner. */
const UPPER = 9;
/** Part of the time in which the fundamental falls by 60 dB, until 63 % of that has come. */
const UPPER_WITHIN = 0.31;

/**
 * Decibels by which the level of a string has fallen, when the time since its stroke is a share of that
 * in which its fundamental falls by 60 dB. The part of the partials is measured on our own strings.
 */
export const fallenDb = (share: number): number =>
  60 * share + UPPER * (1 - Math.exp(-share / UPPER_WITHIN));
