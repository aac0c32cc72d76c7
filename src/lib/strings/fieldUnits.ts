/** Lengths and forces as fields show and take them, in the units that the reader has chosen. */
import { MM_AN_INCH, NEWTONS_A_POUND, type Units } from './units';

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
 * nothing is kept. It has at most so many decimals, where they are said.
 */
export function fieldText(
  kept: number | undefined,
  quantity: Quantity,
  units: Units,
  decimals?: number,
): string {
  if (kept === undefined) return '';
  if (units === 'us')
    return String(rounded(kept / FIELD_UNITS[quantity].us.kept, decimals ?? FIELD_DECIMALS));
  return String(decimals === undefined ? kept : rounded(kept, decimals));
}

/** A figure in the reader's unit, in mm or N. */
export const keptIn = (figure: number, quantity: Quantity, units: Units): number =>
  figure * FIELD_UNITS[quantity][units].kept;

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
