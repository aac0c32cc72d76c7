/** Making text fit: smaller, on several lines, or cut with a sign that says so. */
import { MM_PER_POINT, lineOf } from '../drawing';
import { widthPt, type Weight } from './faces';

/** How wide a text is in a size in points, in millimetres. */
export const widthMm = (text: string, sizePt: number, weight: Weight = 'regular'): number =>
  widthPt(lineOf(text), sizePt, weight) * MM_PER_POINT;

/** The size, at most as asked, at which a text is no wider than it may be. */
export function fittedPt(
  text: string,
  sizePt: number,
  mostMm: number,
  weight: Weight = 'regular',
): number {
  const width = widthMm(text, sizePt, weight);
  return width <= mostMm ? sizePt : (sizePt * mostMm) / width;
}

/** As much of a text as fits, with `…` where something is left out. */
export function cut(text: string, sizePt: number, mostMm: number, weight?: Weight): string {
  if (widthMm(text, sizePt, weight) <= mostMm) return text;
  const signs = [...text];
  let fits = 0;
  let tooMany = signs.length;
  const shortened = (count: number): string => `${signs.slice(0, count).join('').trimEnd()}…`;
  while (tooMany - fits > 1) {
    const half = (fits + tooMany) >> 1;
    if (widthMm(shortened(half), sizePt, weight) <= mostMm) fits = half;
    else tooMany = half;
  }
  return shortened(fits);
}

/** The longest beginning of a word that fits; at least one character. */
function beginning(word: string, sizePt: number, mostMm: number, weight?: Weight): string {
  let taken = '';
  for (const sign of word) {
    if (taken !== '' && widthMm(taken + sign, sizePt, weight) > mostMm) break;
    taken += sign;
  }
  return taken;
}

/** A text on lines no wider than asked; its own line breaks stay, and a word too long is broken. */
export function wrapped(text: string, sizePt: number, mostMm: number, weight?: Weight): string[] {
  const lines: string[] = [];
  for (const paragraph of text.split(/\r\n|[\n\r\u2028\u2029]/)) {
    let current = '';
    for (const word of lineOf(paragraph).split(' ').filter(Boolean)) {
      let rest = word;
      const joined = current === '' ? rest : `${current} ${rest}`;
      if (widthMm(joined, sizePt, weight) <= mostMm) {
        current = joined;
        continue;
      }
      if (current !== '') lines.push(current);
      while (widthMm(rest, sizePt, weight) > mostMm) {
        const taken = beginning(rest, sizePt, mostMm, weight);
        if (taken === rest) break;
        lines.push(taken);
        rest = rest.slice(taken.length);
      }
      current = rest;
    }
    lines.push(current);
  }
  return lines;
}
