/** SVG files: read by an XML library, whatever stands in a name. */
import fc from 'fast-check';
import { XmlDocument, type XmlElement } from 'libxml2-wasm';
import { describe, expect, it } from 'vitest';
import { box, disc, line, lineOf, text, type Drawing } from '$lib/formats/drawing';
import { pageSvg, svgText } from '$lib/formats/svg';

const SVG = { svg: 'http://www.w3.org/2000/svg' };
const drawing = (...words: string[]): Drawing => ({
  title: words[0] ?? '',
  pages: [
    { width: 210, height: 297, marks: words.map((each, i) => text(20, 20 + 9 * i, each, 12)) },
  ],
});

/** What an XML reader finds in the elements of a name. */
function contents(file: string, name: string): string[] {
  const document = XmlDocument.fromString(file);
  try {
    return document.find(`//svg:${name}`, SVG).map((node) => (node as XmlElement).content);
  } finally {
    document.dispose();
  }
}

describe('an SVG file', () => {
  it('keeps text as text, true signs among it, and shows markup as it was typed', () => {
    const words = ['C♯m7♭5', 'B♮', '<script>alert(1)</script>', 'a & b', '"q" \'a\'', ']]>', '-->'];
    const file = svgText(drawing(...words));
    expect(contents(file, 'text')).toEqual(words);
    expect(contents(file, 'title')).toEqual(['C♯m7♭5']);
    expect(contents(file, 'script')).toEqual([]);
  });

  it('is well formed for any text, and says the same', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary' }), (words) => {
        const wanted = lineOf(words);
        expect(contents(svgText(drawing(words)), 'text')).toEqual([wanted]);
        expect(contents(pageSvg(drawing(words).pages[0]!, words), 'title')).toEqual([wanted]);
      }),
    );
  });

  it('replaces what XML 1.0 forbids: halves of surrogate pairs, control characters', () => {
    // XML 1.0, production 2 (Char)
    expect(contents(svgText(drawing('a\uD800b\u0000c\u000Bd\uFFFEe')), 'text')).toEqual([
      'a�b c d�e',
    ]);
  });

  it('stands several pages under one another', () => {
    const page = drawing('x').pages[0]!;
    const file = svgText({ title: 'two', pages: [page, page] });
    expect(file).toContain('viewBox="0 0 210 594"');
    expect(contents(file, 'text')).toEqual(['x', 'x']);
  });

  it('names nothing outside of itself', () => {
    const marks = [text(1, 1, 'A♯', 9), line([0, 0], [1, 1]), box(0, 0, 1, 1), disc(0, 0, 1)];
    const file = svgText({ title: '', pages: [{ width: 10, height: 10, marks }] });
    const addresses = [...file.matchAll(/(?:href|src|url)\W{1,2}(\w+:)/g)].map(
      ([, scheme]) => scheme,
    );
    expect(new Set(addresses)).toEqual(new Set(['data:']));
  });
});
