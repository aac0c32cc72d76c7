import { expect, it } from 'vitest';
import { csvText } from '$lib/formats/csv';

// RFC 4180, section 2: lines end with CRLF; a quote inside quotes is doubled
it('writes commas, quotes and breaks so that they come back', () => {
  expect(
    csvText([
      ['a', 1.5, null],
      ['b, c', 'say "C"', 'two\nlines'],
    ]),
  ).toBe('a,1.5,\r\n"b, c","say ""C""","two\nlines"\r\n');
});
