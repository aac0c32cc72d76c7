const REFERENCES: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&apos;',
  '\t': '&#9;',
  '\n': '&#10;',
  '\r': '&#13;',
};

/**
 * A text as it can stand between tags and in an attribute, in quotes of either kind, so that it reads
 * back the same: tabs and line ends too, which readers else turn into spaces (XML 1.0, 2.11 and 3.3.3).
 * What XML 1.0 forbids however it is written (production 2, Char) is left out.
 */
export const escapeXml = (text: string): string =>
  text
    .replace(/[^\t\n\r\u{20}-\u{D7FF}\u{E000}-\u{FFFD}\u{10000}-\u{10FFFF}]/gu, '')
    .replace(/[&<>"'\t\n\r]/g, (sign) => REFERENCES[sign] ?? '');
