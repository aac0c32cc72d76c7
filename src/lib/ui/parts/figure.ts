/**
 * A whole number as it is read in English, in groups of three: `12,345`. The language's own formatter
 * gives the same, but to wake it takes a slow device as long as to draw the rows that wait for it.
 */
export const figure = (count: number): string => String(count).replace(/\B(?=(?:\d{3})+$)/gu, ',');
