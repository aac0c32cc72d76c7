/** Forces and lengths in the units that the reader has chosen. */

export const UNITS = ['metric', 'us'] as const;
export type Units = (typeof UNITS)[number];

/** The pound-force, exactly: 0.45359237 kg at 9.80665 m/s² (NIST SP 811, appendix B.9). */
const NEWTONS_A_POUND = 4.4482216152605;
/** The inch, exactly (NIST SP 811, appendix B.9). */
const MM_AN_INCH = 25.4;

/** A tension or a force in newtons: `126 N`, `28.3 lb`. */
export const forceText = (newtons: number, units: Units): string =>
  units === 'us' ? `${(newtons / NEWTONS_A_POUND).toFixed(1)} lb` : `${newtons.toFixed(0)} N`;

/** A length in millimetres: `610.0 mm`, `24.016 in`. With one decimal of a millimetre goes about a thousandth of an inch and a bit. */
export const lengthText = (mm: number, units: Units, decimals = 1): string =>
  units === 'us' ? `${(mm / MM_AN_INCH).toFixed(decimals + 2)} in` : `${mm.toFixed(decimals)} mm`;
