/** The bar lines of text notations that write a repeat as `:|` and an ending by its number. */
import type { Measure } from '$lib/arrange/piece';

/** The bar line between two measures, of which either may be missing. */
export function lineBetween(before: Measure | undefined, after: Measure | undefined): string {
  const closes = before?.times === undefined ? '' : ':';
  const begins =
    after?.endings !== undefined &&
    (before?.times !== undefined || after.endings.join() !== before?.endings?.join());
  if (begins) return `${closes}|${after.endings?.join() ?? ''}`;
  const opens = after?.repeats === true ? ':' : '';
  if (closes !== '' || opens !== '') return `${closes}|${opens}`;
  return before?.endings !== undefined && after?.endings === undefined ? '||' : '|';
}

/** The same in ABC, where a part that ends and one that begins share `::` (ABC 2.1, 4.8); not all read `:|:` so. */
export const abcLineBetween = (before: Measure | undefined, after: Measure | undefined): string =>
  lineBetween(before, after).replace(':|:', '::');
