import { isPaper, type Paper } from '$lib/formats/drawing';

/** Where paper is Letter rather than A4 (CLDR 47, `paperSize`). */
const LETTER = 'BZ CA CL CO CR GT MX NI PA PH PR SV US VE'.split(' ');

/** The paper that is usual where a language tag such as `en-US` is spoken. */
export function usualPaper(language: string): Paper {
  const region = language.split('-').find((part, at) => at > 0 && /^[A-Z]{2}$/.test(part));
  return region !== undefined && LETTER.includes(region) ? 'Letter' : 'A4';
}

/** As an address says it, else as is usual here. */
export const paperFrom = (text: string | null, language: string): Paper =>
  text !== null && isPaper(text) ? text : usualPaper(language);
