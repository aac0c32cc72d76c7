/** The parts of an address after the question mark, read and written alike by every place. */
import { given } from './given';

/** The texts of these parts; what says nothing is left out. */
export function textsIn<Part extends string>(
  parts: URLSearchParams,
  names: readonly Part[],
): { readonly [part in Part]?: string } {
  const texts: { [part in Part]?: string } = {};
  for (const name of names) {
    const text = given(parts, name);
    if (text !== undefined) texts[name] = text;
  }
  return texts;
}

/** Writes texts under their names; empty ones are left out. */
export function setTexts<Part extends string>(
  parts: URLSearchParams,
  names: readonly Part[],
  texts: { readonly [part in Part]?: string },
): void {
  for (const name of names) {
    const text = texts[name] ?? '';
    if (text !== '') parts.set(name, text);
  }
}

/** A whole number within bounds; the usual one where there is none. */
export function wholeIn(
  parts: URLSearchParams,
  name: string,
  usual: number,
  [least, most]: readonly [number, number],
): number {
  const number = Number(given(parts, name) ?? usual);
  return Number.isInteger(number) && number >= least && number <= most ? number : usual;
}

/** All parts as text; these signs may stand in an address as they are, and read better than their codes. */
export const readableText = (parts: URLSearchParams, signs: string): string =>
  [...signs].reduce(
    (text, sign) => text.replaceAll(encodeURIComponent(sign), sign),
    parts.toString(),
  );
