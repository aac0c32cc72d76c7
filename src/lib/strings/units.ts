/** Forces and lengths in the units that the reader has chosen. */
import { signed } from '$lib/theory/signed';

/** Newtons and millimetres, or pounds and inches. */
export const UNITS = ['metric', 'us'] as const;
export type Units = (typeof UNITS)[number];

/** The pound-force, exactly: 0.45359237 kg at 9.80665 m/s² (NIST SP 811, appendix B.8). */
const NEWTONS_A_POUND = 4.4482216152605;
/** The inch, exactly (NIST SP 811, appendix B.8). */
const MM_AN_INCH = 25.4;
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

/** The signs of the units of force. */
export const FORCE_UNITS: Readonly<Record<Units, string>> = { metric: 'N', us: 'lb' };

/** Newtons as a figure to be written over, rounded as `forceText` does. */
export const forceIn = (newtons: number, units: Units): number =>
  units === 'us' ? Math.round((10 * newtons) / NEWTONS_A_POUND) / 10 : Math.round(newtons);

/** What was written in the reader's unit, in newtons. */
export const newtonsOf = (force: number, units: Units): number =>
  units === 'us' ? force * NEWTONS_A_POUND : force;

/** What a field may ask for that has a unit: a length, kept in millimetres, or a force, in newtons. */
export type Quantity = 'length' | 'force';

/** What a unit is called beside a field, and what one of it is in millimetres or newtons. */
interface Unit {
  readonly sign: string;
  readonly kept: number;
}
const FIELD_UNITS: Readonly<Record<Quantity, Readonly<Record<Units, Unit>>>> = {
  length: { metric: { sign: 'mm', kept: 1 }, us: { sign: 'in', kept: MM_AN_INCH } },
  force: { metric: { sign: 'N', kept: 1 }, us: { sign: 'lb', kept: NEWTONS_A_POUND } },
};
/** Decimals of a field in inches or pounds: a ten-thousandth of an inch is 0.003 mm. */
const FIELD_DECIMALS = 4;
/** Decimals that are kept of what was converted; a field then gives back the figure that was typed. */
const KEPT_DECIMALS = 6;
const PLAIN_NUMBER = /^[+-]?(\d+(\.\d+)?|\.\d+)$/;

const rounded = (value: number, decimals: number): number => Number(value.toFixed(decimals));

/** The sign of the unit that a field asks for: `mm`, `in`, `N`, `lb`. */
export const unitSign = (quantity: Quantity, units: Units): string =>
  FIELD_UNITS[quantity][units].sign;

/**
 * A kept figure (mm or N) as it stands in a field, in the reader's unit, without trailing zeros; empty where
 * nothing is kept.
 */
export function fieldText(kept: number | undefined, quantity: Quantity, units: Units): string {
  if (kept === undefined) return '';
  if (units === 'metric') return String(kept);
  return String(rounded(kept / FIELD_UNITS[quantity].us.kept, FIELD_DECIMALS));
}

/**
 * What was typed in the reader's unit, as text in mm or N. What is no plain number is given back as it
 * is, so that whoever reads it says why it cannot be.
 */
export function keptText(typed: string, quantity: Quantity, units: Units): string {
  if (units === 'metric') return typed;
  const plain = typed.trim().replace(',', '.').replace('−', '-');
  return PLAIN_NUMBER.test(plain)
    ? String(rounded(Number(plain) * FIELD_UNITS[quantity].us.kept, KEPT_DECIMALS))
    : typed;
}
