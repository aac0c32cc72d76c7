/** How a pull's interval and a string's gauge are written. */

/** Semitones with a real minus: `+2`, `−1`. */
export const semitonesText = (semitones: number): string =>
  semitones > 0 ? `+${semitones}` : `−${-semitones}`;

/** A diameter in inches as the trade writes it: `.013`, `.0115`. */
export const gaugeText = (inches: number): string =>
  inches.toFixed(4).replace(/0$/, '').replace(/^0\./, '.');
