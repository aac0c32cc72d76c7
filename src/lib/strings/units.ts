/** Forces and lengths in the units that the reader has chosen. */
import { signed } from '$lib/theory/signed';

/** Newtons and millimetres, or pounds and inches. */
export const UNITS = ['metric', 'us'] as const;
export type Units = (typeof UNITS)[number];

/** The pound-force, exactly: 0.45359237 kg at 9.80665 m/s² (NIST SP 811, appendix B.8). */
export const NEWTONS_A_POUND = 4.4482216152605;
/** The inch, exactly (NIST SP 811, appendix B.8). */
export const MM_AN_INCH = 25.4;
/** Decimals more that an inch needs, so that nothing is lost that millimetres tell. */
const INCH_DECIMALS = 2;

/** A tension or a force in newtons: `126 N`, `28.3 lb`. */
export const forceText = (newtons: number, units: Units): string =>
  units === 'us' ? `${(newtons / NEWTONS_A_POUND).toFixed(1)} lb` : `${newtons.toFixed(0)} N`;

/** A length in millimetres: `610.0 mm`, `24.016 in`. */
export const lengthText = (mm: number, units: Units, decimals = 1): string =>
  units === 'us'
    ? `${(mm / MM_AN_INCH).toFixed(decimals + INCH_DECIMALS)} in`
    : `${mm.toFixed(decimals)} mm`;

/** A way in millimetres, with its sign: `+0.61 mm`, `−0.0240 in`. */
export const movedText = (mm: number, units: Units, decimals = 1): string =>
  units === 'us'
    ? `${signed(mm / MM_AN_INCH, decimals + INCH_DECIMALS)} in`
    : `${signed(mm, decimals)} mm`;
