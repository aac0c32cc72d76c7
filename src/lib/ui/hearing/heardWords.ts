/** What is heard, in words. */
import type { BarOff } from '$lib/hearing/bar';

/** A string off its bar by more than this, in cents, stands out. */
const STANDS_OUT = 5;

/** `+3.2`, `−0.4`. */
export const centsWords = (cents: number): string => {
  const size = Math.abs(cents).toFixed(1);
  return `${cents < 0 && size !== '0.0' ? '−' : '+'}${size}`;
};

/** Where the bar lies, and which string is off by itself. */
export function barWords({
  mm,
  turnMm,
  apart,
  strings,
}: BarOff & { readonly strings: readonly number[] }): string {
  const [lies, turned] = [Math.abs(mm).toFixed(1), Math.abs(turnMm).toFixed(1)];
  const where = lies === '0.0' ? 'on its fret' : `${lies} mm ${mm > 0 ? 'sharp' : 'flat'}`;
  const turn =
    strings.length < 2
      ? ''
      : turned === '0.0'
        ? ', straight'
        : `, its far end ${turned} mm ${turnMm > 0 ? 'ahead' : 'behind'}`;
  const alone = strings.flatMap((string, at) => {
    const cents = apart[at] ?? 0;
    return strings.length > 2 && Math.abs(cents) > STANDS_OUT
      ? [` String ${string} is ${centsWords(cents)} cents off the others.`]
      : [];
  });
  return `The bar lies ${where}${turn}.${alone.join('')}`;
}
