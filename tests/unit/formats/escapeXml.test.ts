/** The one escaper of XML, held against an XML library. */
import fc from 'fast-check';
import { XmlDocument } from 'libxml2-wasm';
import { describe, expect, it } from 'vitest';
import { escapeXml } from '$lib/formats/escapeXml';

/** What a reader finds of a text between tags, and in an attribute in quotes of either kind. */
function readBack(text: string): (string | undefined)[] {
  const written = escapeXml(text);
  const document = XmlDocument.fromString(`<x a="${written}" b='${written}'>${written}</x>`);
  try {
    const { root } = document;
    return [root.content, root.attr('a')?.content, root.attr('b')?.content];
  } finally {
    document.dispose();
  }
}

/** XML 1.0, production 2 (Char), one character at a time. */
function isAllowed(character: string): boolean {
  const code = character.codePointAt(0) ?? 0;
  if (code === 0x9 || code === 0xa || code === 0xd) return true;
  if (code >= 0x20 && code <= 0xd7ff) return true;
  if (code >= 0xe000 && code <= 0xfffd) return true;
  return code >= 0x10000 && code <= 0x10ffff;
}

describe('a text in XML', () => {
  it.each([
    // the five predefined entities: XML 1.0, 4.6
    ['&', '&amp;'],
    ['<', '&lt;'],
    ['>', '&gt;'],
    ['"', '&quot;'],
    ["'", '&apos;'],
    ['&amp;', '&amp;amp;'],
    [']]>', ']]&gt;'],
    ['C♯ 𝄪', 'C♯ 𝄪'],
  ])('%s is written %s', (text, wanted) => {
    expect(escapeXml(text)).toBe(wanted);
  });

  it.each(['a & b < c > d', '"q" \'a\'', '</x><y/>', '<!-- -->', 'a\tb\nc\rd\r\ne', '𝄫\u{10FFFF}'])(
    '%j reads back as it was, between tags and in attributes',
    (text) => {
      expect(readBack(text)).toEqual([text, text, text]);
    },
  );

  it('leaves out what XML 1.0 forbids: control characters, halves of surrogate pairs, two more', () => {
    expect(escapeXml('a\u0000b\u0008c\u000Bd\u000Ce\u000Ef\u001Fg')).toBe('abcdefg');
    expect(escapeXml('a\uD800b\uDC00c\uFFFEd\uFFFFe')).toBe('abcde');
    // allowed, if discouraged
    expect(escapeXml('a\u007Fb\u0085c')).toBe('a\u007Fb\u0085c');
  });

  it('of any kind reads back without what is forbidden', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary' }), (text) => {
        const allowed = Array.from(text).filter(isAllowed).join('');
        expect(readBack(text)).toEqual([allowed, allowed, allowed]);
      }),
    );
  });
});
