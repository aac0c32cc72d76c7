import type { Handle } from '@sveltejs/kit';

/** What every page needs for its first words; letters beyond Latin and signs are fetched when met. */
const FONT_OF_WORDS = /-latin-wght-normal\..*woff2$/u;

/** Lets the font be fetched along with the script, so that the page is laid out once and not twice. */
export const handle: Handle = ({ event, resolve }) =>
  resolve(event, {
    preload: ({ type, path }) =>
      type === 'js' || type === 'css' || (type === 'font' && FONT_OF_WORDS.test(path)),
  });
