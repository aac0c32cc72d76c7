/** Words as the page sets them. */

/** A figure with its sign and its unit, which no line breaks apart. */
export const unbroken = (figure: string): string => figure.replaceAll(' ', '\u00a0');

/** With its first letter as a sentence begins. */
export const capitalised = (words: string): string =>
  words.charAt(0).toUpperCase() + words.slice(1);
