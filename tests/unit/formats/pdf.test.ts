/** PDF files: their structure by ISO 32000-1, and what an independent reader makes of them. */
import { inflateSync } from 'node:zlib';
import { describe, expect, it } from 'vitest';
import { box, disc, line, text, type Drawing, type Mark } from '$lib/formats/drawing';
import { pdfBytes } from '$lib/formats/pdf';
import { widthMm } from '$lib/formats/type/setting';
import { hasPoppler, pdfFonts, pdfPicture, pdfText, pdfWords } from './poppler';

const page = (...marks: Mark[]) => ({ width: 210, height: 297, marks });
const drawing = (...marks: Mark[]): Drawing => ({ title: 'A sheet', pages: [page(...marks)] });
const latin = (bytes: Uint8Array): string => Buffer.from(bytes).toString('latin1');

/** The places that the table of a file tells for its objects; section 7.5.4. */
function tableOf(file: string): number[] {
  const start = Number(/startxref\n(\d+)\n%%EOF\n$/.exec(file)?.[1]);
  const [head, ...entries] = file.slice(start).split('\n').slice(1);
  const count = Number(/^0 (\d+)$/.exec(head ?? '')?.[1]);
  return entries.slice(0, count).map((entry) => {
    // every entry is twenty bytes, the end of its line among them
    expect(entry).toMatch(/^\d{10} \d{5} [nf] $/);
    return Number(entry.slice(0, 10));
  });
}

/** The unpacked streams of a file. */
const streamsOf = (bytes: Uint8Array): string[] =>
  [...latin(bytes).matchAll(/\/Length (\d+) \/Filter \/FlateDecode[^>]*>>\nstream\n/g)].map(
    (match) => {
      const start = match.index + match[0].length;
      return inflateSync(bytes.slice(start, start + Number(match[1]))).toString('latin1');
    },
  );

describe('the structure', () => {
  const bytes = pdfBytes(drawing(text(20, 30, 'C♯m7♭5', 12), line([20, 40], [60, 40])));
  const file = latin(bytes);

  it('begins with the version, ends with the end, and finds every object where the table says', () => {
    expect(file.startsWith('%PDF-1.7\n')).toBe(true);
    const [free, ...places] = tableOf(file);
    expect(free).toBe(0);
    expect(places.length).toBeGreaterThan(5);
    for (const [index, place] of places.entries())
      expect(file.slice(place, place + 12)).toMatch(new RegExp(`^${index + 1} 0 obj\n`));
  });

  it('has the size of its paper: A4 is 595.276 by 841.89 points', () => {
    expect(file).toContain('/MediaBox [0 0 595.276 841.89]');
  });

  it('carries every font it uses, with what its codes mean', () => {
    const composite = file.match(/\/Subtype \/Type0/g) ?? [];
    expect(composite.length).toBe(2); // the text face and the signs
    expect(file.match(/\/ToUnicode \d+ 0 R/g)?.length).toBe(composite.length);
    expect(file.match(/\/FontFile2 \d+ 0 R/g)?.length).toBe(composite.length);
    const maps = streamsOf(bytes).filter((stream) => stream.includes('beginbfchar'));
    // ♯ is U+266F, ♭ U+266D
    expect(maps.join()).toContain('<266F>');
    expect(maps.join()).toContain('<266D>');
  });

  it('carries fonts as TrueType files, every table where the directory says and with its checksum', () => {
    const fonts = streamsOf(bytes)
      .map((stream) => Buffer.from(stream, 'latin1'))
      // OpenType 1.9, "Organization of an OpenType Font"
      .filter((stream) => stream.length > 12 && stream.readUInt32BE(0) === 0x10000);
    expect(fonts.length).toBe(2);
    for (const font of fonts) {
      const tags = Array.from({ length: font.readUInt16BE(4) }, (_, index) => {
        const entry = 12 + 16 * index;
        const tag = font.toString('latin1', entry, entry + 4);
        const [wanted, start, length] = [4, 8, 12].map((at) => font.readUInt32BE(entry + at));
        const table = Buffer.alloc(Math.ceil((length ?? 0) / 4) * 4);
        font.copy(table, 0, start, (start ?? 0) + (length ?? 0));
        // the file's own sum, which stands in this table, does not count
        if (tag === 'head') table.writeUInt32BE(0, 8);
        let sum = 0;
        for (let at = 0; at < table.length; at += 4) sum = (sum + table.readUInt32BE(at)) >>> 0;
        expect(sum, tag).toBe(wanted);
        return tag;
      });
      // ISO 32000-1, 9.9; those that steer hinting are there where the font has them
      for (const tag of ['glyf', 'head', 'hhea', 'hmtx', 'loca', 'maxp'])
        expect(tags).toContain(tag);
    }
  });

  it('says its title in any letters', () => {
    const titled = latin(pdfBytes({ title: 'É ♭', pages: [page()] }));
    // UTF-16 with its mark: section 7.9.2.2
    expect(titled).toContain('/Title <FEFF00C90020266D>');
  });

  it('is the same for the same drawing', () => {
    const again = pdfBytes(drawing(text(20, 30, 'C♯m7♭5', 12), line([20, 40], [60, 40])));
    expect(latin(again)).toBe(file);
  });

  it('holds as many pages as the drawing, and an empty page too', () => {
    const three = latin(pdfBytes({ title: '', pages: [page(), page(), page()] }));
    expect(three.match(/\/Type \/Page /g)?.length).toBe(3);
    expect(three).toContain('/Count 3');
  });
});

describe.skipIf(!hasPoppler)('what an independent reader (Poppler) finds', () => {
  it('copies text as it was written, signs and all', () => {
    const words = ['C♯m7♭5/G♭', 'B♮', 'Łódź', 'F𝄪', 'E𝄫', '½', '<b>&amp;</b>', '(a)\\(b'];
    const read = pdfText(
      pdfBytes(drawing(...words.map((each, i) => text(20, 30 + 10 * i, each, 12)))),
    );
    expect(read.trim().split(/\s+/)).toEqual(words);
  });

  it('copies even what our fonts cannot draw', () => {
    expect(pdfText(pdfBytes(drawing(text(20, 30, '漢字', 12)))).trim()).toBe('漢字');
  });

  it('embeds every font, whole, with what its codes mean', () => {
    const marks = [text(20, 30, 'A♯ ł', 12), text(20, 40, 'B♭ ł', 12, { weight: 'bold' })];
    const fonts = pdfFonts(pdfBytes(drawing(...marks)));
    expect(fonts.length).toBe(6);
    for (const row of fonts) expect(row).toMatch(/CID TrueType +Identity-H +yes no +yes/);
  });

  it('sets type as wide as it was measured, from where it was asked to stand', () => {
    const word = 'Wq♯♭7';
    const bytes = pdfBytes(
      drawing(
        text(30, 30, word, 20),
        text(180, 50, word, 20, { align: 'end', weight: 'bold' }),
        text(105, 70, word, 20, { align: 'middle' }),
      ),
    );
    const [left, right, middle] = pdfWords(bytes);
    const mm = (points = 0): number => (points * 25.4) / 72;
    expect(mm(left?.left)).toBeCloseTo(30, 1);
    expect(mm(left?.right) - mm(left?.left)).toBeCloseTo(widthMm(word, 20), 1);
    expect(mm(right?.right)).toBeCloseTo(180, 1);
    expect((mm(middle?.left) + mm(middle?.right)) / 2).toBeCloseTo(105, 1);
  });

  it('draws boxes, discs, lines and signs where they belong, black on white', () => {
    const picture = pdfPicture(
      pdfBytes(
        drawing(
          box(20, 20, 30, 10),
          disc(100, 100, 8),
          line([20, 150], [190, 150], 2),
          text(40, 230, '♯', 80),
        ),
      ),
      // one dot a millimetre
      25.4,
    );
    const mean = (x: number, y: number, size: number): number => {
      let sum = 0;
      for (let dx = 0; dx < size; dx++)
        for (let dy = 0; dy < size; dy++) sum += picture.at(x + dx, y + dy);
      return sum / size ** 2;
    };
    expect(picture.at(35, 25)).toBe(0);
    expect(picture.at(35, 33)).toBe(255);
    expect(picture.at(100, 94)).toBe(0);
    // outside of the circle, inside of the square around it: 8 · √2 is 11.3
    expect(picture.at(107, 107)).toBe(255);
    expect(picture.at(100, 150)).toBeLessThan(10);
    // a sharp has ink, and white between its strokes
    expect(mean(42, 212, 10)).toBeGreaterThan(20);
    expect(mean(42, 212, 10)).toBeLessThan(235);
  });
});
