import { signed } from '$lib/theory/signed';

/** Cents as they are written everywhere: a sign, tenths, and a true minus. */
export const centsText = (cents: number): string => signed(cents, 1);

/** `13.7 cents flat`, `in tune`: as they are said. */
export function centsWords(cents: number): string {
  const tenths = Math.abs(cents).toFixed(1);
  return tenths === '0.0' ? 'in tune' : `${tenths} cents ${cents < 0 ? 'flat' : 'sharp'}`;
}
