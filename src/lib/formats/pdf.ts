/**
 * A drawing as PDF 1.7: vector lines, and type with its fonts inside, so that ♯ ♭ ♮ print and copy as
 * they are. Source: ISO 32000-1:2008, sections 7.5 (file structure), 8.5 (paths), 9.4 (text), 9.7
 * (composite fonts), 9.10.3 (ToUnicode).
 *
 * Written here rather than taken from a library: a sheet needs a dozen operators, and a library that
 * can embed a font weighs some 200 kB packed, more than the whole first page of the program.
 */
import { zlibSync } from 'fflate';
import { MM_PER_POINT, lineOf, type Drawing, type Mark, type Page, type TextMark } from './drawing';
import { fontsOf, runsOf, widthPt, type Weight } from './type/faces';
import { charactersOf } from './type/usedCharacters';

/** The objects of a file, numbered from 1 in the order in which they are asked for. */
class Objects {
  readonly #bodies: (Uint8Array | undefined)[] = [];

  reserve(): number {
    return this.#bodies.push(undefined);
  }
  put(number: number, body: string): number {
    this.#bodies[number - 1] = latin(body);
    return number;
  }
  add(body: string): number {
    return this.put(this.reserve(), body);
  }
  addStream(bytes: Uint8Array, entries = ''): number {
    const packed = zlibSync(bytes, { level: 9 });
    const head = latin(`<< /Length ${packed.length} /Filter /FlateDecode${entries} >>\nstream\n`);
    return this.#bodies.push(joined([head, packed, latin('\nendstream')]));
  }

  /** Header, objects, the table of their offsets, trailer. */
  file(root: number, info: number): Uint8Array {
    // bytes above 127 in the second line tell programs that the file is not text
    const parts = [latin('%PDF-1.7\n%\xe2\xe3\xcf\xd3\n')];
    let at = parts[0]?.length ?? 0;
    const offsets: number[] = [];
    const push = (part: Uint8Array): void => {
      parts.push(part);
      at += part.length;
    };
    for (const [index, body] of this.#bodies.entries()) {
      if (body === undefined) throw new Error(`object ${index + 1} of the file has no body`);
      offsets.push(at);
      push(joined([latin(`${index + 1} 0 obj\n`), body, latin('\nendobj\n')]));
    }
    const start = at;
    const entries = offsets.map((offset) => `${String(offset).padStart(10, '0')} 00000 n \n`);
    const size = offsets.length + 1;
    push(latin(`xref\n0 ${size}\n0000000000 65535 f \n${entries.join('')}`));
    push(
      latin(
        `trailer\n<< /Size ${size} /Root ${root} 0 R /Info ${info} 0 R >>\nstartxref\n${start}\n%%EOF\n`,
      ),
    );
    return joined(parts);
  }
}

const latin = (text: string): Uint8Array => Uint8Array.from(text, (sign) => sign.charCodeAt(0));

function joined(parts: readonly Uint8Array[]): Uint8Array {
  const whole = new Uint8Array(parts.reduce((sum, part) => sum + part.length, 0));
  let at = 0;
  for (const part of parts) {
    whole.set(part, at);
    at += part.length;
  }
  return whole;
}

const hex = (value: number): string => value.toString(16).toUpperCase().padStart(4, '0');
/** UTF-16, big end first. */
const hexText = (text: string): string =>
  Array.from({ length: text.length }, (_, at) => hex(text.charCodeAt(at))).join('');
const number = (value: number): string => String(Math.round(value * 1000) / 1000);
const points = (mm: number): string => number(mm / MM_PER_POINT);

/** A font as the pages use it: the name in their resources, and the code of every character. */
interface UsedFont {
  readonly name: string;
  readonly object: number;
  readonly codes: ReadonlyMap<number, number>;
}

const HEAD = `/CIDInit /ProcSet findresource begin
12 dict begin
begincmap
/CIDSystemInfo << /Registry (Adobe) /Ordering (UCS) /Supplement 0 >> def
/CMapName /Adobe-Identity-UCS def
/CMapType 2 def
1 begincodespacerange
<0000> <FFFF>
endcodespacerange
`;
const TAIL = `endcmap
CMapName currentdict /CMap defineresource pop
end
end`;

/** Which text each code stands for; at most a hundred a block. */
function toUnicode(characters: readonly number[]): string {
  const rows = characters.map(
    (code, index) => `<${hex(index + 1)}> <${hexText(String.fromCodePoint(code))}>\n`,
  );
  let map = HEAD;
  for (let at = 0; at < rows.length; at += 100) {
    const block = rows.slice(at, at + 100);
    map += `${block.length} beginbfchar\n${block.join('')}endbfchar\n`;
  }
  return map + TAIL;
}

/**
 * Embeds one font whole. Code i + 1 is character i of those that are used; what the font lacks shows as
 * its sign for a missing character, and still has a code of its own, so that it copies.
 */
function embed(
  objects: Objects,
  weight: Weight,
  fontIndex: number,
  characters: readonly number[],
): UsedFont {
  const font = fontsOf(weight)[fontIndex];
  if (font === undefined) throw new Error(`font ${fontIndex} of the ${weight} weight`);
  const thousandths = (units: number): number => Math.round((units * 1000) / font.unitsPerEm);
  const base = `Gripwright-${weight === 'bold' ? 'Bold' : 'Regular'}${fontIndex + 1}`;
  const bytes = font.drawing();
  const glyphs = characters.map((code) => font.glyphOf(code));
  const data = objects.addStream(bytes, ` /Length1 ${bytes.length}`);
  const descriptor = objects.add(
    `<< /Type /FontDescriptor /FontName /${base} /Flags 4 /FontBBox [-500 -400 2000 1200] /ItalicAngle 0 /Ascent ${thousandths(font.ascent)} /Descent ${thousandths(font.descent)} /CapHeight 668 /StemV ${weight === 'bold' ? 130 : 80} /FontFile2 ${data} 0 R >>`,
  );
  const widths = glyphs.map((glyph) => thousandths(font.advanceOf(glyph)));
  const glyphsByCode = objects.addStream(
    Uint8Array.from([0, ...glyphs].flatMap((glyph) => [glyph >> 8, glyph & 0xff])),
  );
  const descendant = objects.add(
    `<< /Type /Font /Subtype /CIDFontType2 /BaseFont /${base} /CIDSystemInfo << /Registry (Adobe) /Ordering (Identity) /Supplement 0 >> /FontDescriptor ${descriptor} 0 R /CIDToGIDMap ${glyphsByCode} 0 R /DW 500 /W [1 [${widths.join(' ')}]] >>`,
  );
  const unicode = objects.addStream(latin(toUnicode(characters)));
  const object = objects.add(
    `<< /Type /Font /Subtype /Type0 /BaseFont /${base} /Encoding /Identity-H /DescendantFonts [${descendant} 0 R] /ToUnicode ${unicode} 0 R >>`,
  );
  return {
    name: `F${weight === 'bold' ? 'b' : 'r'}${fontIndex}`,
    object,
    codes: new Map(characters.map((code, index) => [code, index + 1])),
  };
}

type Fonts = Readonly<Record<Weight, ReadonlyMap<number, UsedFont>>>;

function textContent(mark: TextMark, height: number, fonts: Fonts): string {
  const { text, sizePt, weight, align } = mark;
  const width = widthPt(text, sizePt, weight);
  const back = align === 'end' ? width : align === 'middle' ? width / 2 : 0;
  const start = mark.x / MM_PER_POINT - back;
  const shown = runsOf(text, weight).map((run) => {
    const font = fonts[weight].get(run.font);
    const codes = Array.from(run.text, (sign) =>
      hex(font?.codes.get(sign.codePointAt(0) ?? 0) ?? 0),
    );
    return `/${font?.name ?? ''} ${number(sizePt)} Tf <${codes.join('')}> Tj`;
  });
  return `BT ${number(1 - mark.ink)} g ${number(start)} ${points(height - mark.y)} Td ${shown.join(' ')} ET`;
}

/** A quarter of a circle as a Bézier curve: its handles are this long for a radius of 1. */
const QUARTER = (4 / 3) * (Math.SQRT2 - 1);

function markContent(mark: Mark, height: number, fonts: Fonts): string {
  switch (mark.kind) {
    case 'text':
      return textContent(mark, height, fonts);
    case 'line': {
      const [[x1, y1], [x2, y2]] = [mark.from, mark.to];
      return `${number(1 - mark.ink)} G ${points(mark.widthMm)} w ${points(x1)} ${points(height - y1)} m ${points(x2)} ${points(height - y2)} l S`;
    }
    case 'box':
      return `${number(1 - mark.fill)} g ${points(mark.x)} ${points(height - mark.y - mark.height)} ${points(mark.width)} ${points(mark.height)} re f`;
    case 'path': {
      const signs = { M: 'm', L: 'l', C: 'c', Z: 'h' } as const;
      const steps = mark.steps.map(([sign, ...at]) =>
        [
          ...at.map((value, each) => points(each % 2 === 0 ? value : height - value)),
          signs[sign],
        ].join(' '),
      );
      return `${number(1 - mark.fill)} g ${steps.join(' ')} f`;
    }
    case 'disc': {
      const { x, radius: r } = mark;
      const y = height - mark.y;
      const h = r * QUARTER;
      const curve = (...at: readonly number[]): string => `${at.map(points).join(' ')} c`;
      return [
        `${number(1 - mark.fill)} g ${points(x + r)} ${points(y)} m`,
        curve(x + r, y + h, x + h, y + r, x, y + r),
        curve(x - h, y + r, x - r, y + h, x - r, y),
        curve(x - r, y - h, x - h, y - r, x, y - r),
        curve(x + h, y - r, x + r, y - h, x + r, y),
        'f',
      ].join(' ');
    }
  }
}

const pageContent = ({ height, marks }: Page, fonts: Fonts): string =>
  marks.map((mark) => markContent(mark, height, fonts)).join('\n');

/** The whole drawing, a page a page. The same drawing gives the same bytes. */
export function pdfBytes(drawing: Drawing): Uint8Array {
  const objects = new Objects();
  const [root, pages] = [objects.reserve(), objects.reserve()];
  const of = (weight: Weight): ReadonlyMap<number, UsedFont> =>
    new Map(
      [...charactersOf(drawing, weight)].map(([fontIndex, characters]) => [
        fontIndex,
        embed(objects, weight, fontIndex, characters),
      ]),
    );
  const fonts: Fonts = { regular: of('regular'), bold: of('bold') };
  const used = [...fonts.regular.values(), ...fonts.bold.values()];
  const resources = objects.add(
    `<< /Font << ${used.map(({ name, object }) => `/${name} ${object} 0 R`).join(' ')} >> >>`,
  );
  const kids = drawing.pages.map((page) => {
    const content = objects.addStream(latin(pageContent(page, fonts)));
    return objects.add(
      `<< /Type /Page /Parent ${pages} 0 R /MediaBox [0 0 ${points(page.width)} ${points(page.height)}] /Resources ${resources} 0 R /Contents ${content} 0 R >>`,
    );
  });
  objects.put(
    pages,
    `<< /Type /Pages /Count ${kids.length} /Kids [${kids.map((kid) => `${kid} 0 R`).join(' ')}] >>`,
  );
  objects.put(
    root,
    `<< /Type /Catalog /Pages ${pages} 0 R /Lang (en) /ViewerPreferences << /DisplayDocTitle true >> >>`,
  );
  const info = objects.add(
    `<< /Title <FEFF${hexText(lineOf(drawing.title))}> /Producer (Gripwright) >>`,
  );
  return objects.file(root, info);
}
