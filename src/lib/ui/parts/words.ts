/** Words as the page sets them. */

/** With its first letter as a sentence begins. */
export const capitalised = (words: string): string =>
  words.charAt(0).toUpperCase() + words.slice(1);
