/**
 * Reads a font with TrueType outlines, plain or wrapped as WOFF 1.0, as far as setting type on paper
 * needs it: which glyph a character has, how wide it is, and the tables that hold the outlines.
 * Sources: OpenType 1.9 ("Font file", "cmap", "hmtx"); WOFF File Format 1.0 (W3C).
 */
import { unzlibSync } from 'fflate';

export interface Font {
  readonly unitsPerEm: number;
  /** Above the baseline, in font units; the descent is negative. */
  readonly ascent: number;
  readonly descent: number;
  /** The glyph of a code point; 0 where the font has none. */
  glyphOf(codePoint: number): number;
  /** In font units. */
  advanceOf(glyph: number): number;
  /** The bytes that draw a glyph; none for a space. */
  outlineOf(glyph: number): Uint8Array;
  table(tag: string): Uint8Array | undefined;
}

const viewOf = (bytes: Uint8Array): DataView =>
  new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);

const tagAt = (view: DataView, at: number): string =>
  String.fromCharCode(...[0, 1, 2, 3].map((place) => view.getUint8(at + place)));

/** The tables by their tags, unpacked. */
function tablesOf(bytes: Uint8Array): Map<string, Uint8Array> {
  const view = viewOf(bytes);
  const isWoff = tagAt(view, 0) === 'wOFF';
  const count = view.getUint16(isWoff ? 12 : 4);
  const tables = new Map<string, Uint8Array>();
  for (let index = 0; index < count; index++) {
    if (isWoff) {
      const entry = 44 + 20 * index;
      const [start, packed, length] = [4, 8, 12].map((at) => view.getUint32(entry + at));
      const part = bytes.subarray(start, (start ?? 0) + (packed ?? 0));
      tables.set(tagAt(view, entry), packed === length ? part : unzlibSync(part));
    } else {
      const entry = 12 + 16 * index;
      const start = view.getUint32(entry + 8);
      tables.set(tagAt(view, entry), bytes.subarray(start, start + view.getUint32(entry + 12)));
    }
  }
  return tables;
}

/** Glyphs by code point, from a character map of format 4 or 12. */
function charactersOf(cmap: DataView): Map<number, number> {
  const glyphs = new Map<number, number>();
  for (let index = 0; index < cmap.getUint16(2); index++) {
    const platform = cmap.getUint16(4 + 8 * index);
    const start = cmap.getUint32(8 + 8 * index);
    const format = cmap.getUint16(start);
    if (platform !== 3) continue;
    if (format === 4) readSegments(cmap, start, glyphs);
    if (format === 12) readGroups(cmap, start, glyphs);
  }
  return glyphs;
}

function readSegments(cmap: DataView, start: number, glyphs: Map<number, number>): void {
  const twice = cmap.getUint16(start + 6);
  for (let segment = 0; segment < twice; segment += 2) {
    const last = cmap.getUint16(start + 14 + segment);
    const first = cmap.getUint16(start + 16 + twice + segment);
    const delta = cmap.getUint16(start + 16 + 2 * twice + segment);
    const rangeAt = start + 16 + 3 * twice + segment;
    const range = cmap.getUint16(rangeAt);
    for (let code = first; code <= last && code < 0xffff; code++) {
      const glyph = range === 0 ? code : cmap.getUint16(rangeAt + range + 2 * (code - first));
      if (glyph !== 0) glyphs.set(code, (glyph + delta) & 0xffff);
    }
  }
}

function readGroups(cmap: DataView, start: number, glyphs: Map<number, number>): void {
  for (let group = 0; group < cmap.getUint32(start + 12); group++) {
    const [first = 0, last = -1, glyph = 0] = [16, 20, 24].map((at) =>
      cmap.getUint32(start + at + 12 * group),
    );
    for (let code = first; code <= last; code++) glyphs.set(code, glyph + code - first);
  }
}

/** Throws on a font that lacks a table: the fonts are ours, nobody hands one in. */
export function readFont(bytes: Uint8Array): Font {
  const tables = tablesOf(bytes);
  const need = (tag: string): Uint8Array => {
    const table = tables.get(tag);
    if (table === undefined) throw new Error(`a font with the table ${tag}`);
    return table;
  };
  const [head, hhea, hmtx, loca] = ['head', 'hhea', 'hmtx', 'loca'].map((tag) =>
    viewOf(need(tag)),
  ) as [DataView, DataView, DataView, DataView];
  const glyf = need('glyf');
  const characters = charactersOf(viewOf(need('cmap')));
  const metrics = hhea.getUint16(34);
  const isLong = head.getInt16(50) === 1;
  const place = (glyph: number): number =>
    isLong ? loca.getUint32(4 * glyph) : 2 * loca.getUint16(2 * glyph);
  return {
    unitsPerEm: head.getUint16(18),
    ascent: hhea.getInt16(4),
    descent: hhea.getInt16(6),
    glyphOf: (codePoint) => characters.get(codePoint) ?? 0,
    advanceOf: (glyph) => hmtx.getUint16(4 * Math.min(glyph, metrics - 1)),
    outlineOf: (glyph) => glyf.subarray(place(glyph), place(glyph + 1)),
    table: (tag) => tables.get(tag),
  };
}
