/**
 * Reads a font with TrueType outlines, plain or wrapped as WOFF 1.0, as far as setting type on paper
 * needs it: which glyph a character has, how wide it is, and the font as a PDF carries it.
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
  /** A TrueType file of the tables that draw glyphs. */
  drawing(): Uint8Array;
}

interface FontTable {
  readonly bytes: Uint8Array;
  readonly checksum: number;
}

/** The tables by which a PDF draws the glyphs of a TrueType font: ISO 32000-1:2008, 9.9. */
const DRAWING_TABLES = ['cvt ', 'fpgm', 'glyf', 'head', 'hhea', 'hmtx', 'loca', 'maxp', 'prep'];

const viewOf = (bytes: Uint8Array): DataView =>
  new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);

const tagAt = (view: DataView, at: number): string =>
  String.fromCharCode(...[0, 1, 2, 3].map((byte) => view.getUint8(at + byte)));

/** The tables by their tags, unpacked, in the order of their tags. */
function tablesOf(bytes: Uint8Array): Map<string, FontTable> {
  const view = viewOf(bytes);
  const isWoff = tagAt(view, 0) === 'wOFF';
  const count = view.getUint16(isWoff ? 12 : 4);
  const tables = new Map<string, FontTable>();
  for (let index = 0; index < count; index++) {
    if (isWoff) {
      const entry = 44 + 20 * index;
      const [start, packed, length] = [4, 8, 12].map((at) => view.getUint32(entry + at));
      const part = bytes.subarray(start, (start ?? 0) + (packed ?? 0));
      tables.set(tagAt(view, entry), {
        bytes: packed === length ? part : unzlibSync(part),
        checksum: view.getUint32(entry + 16),
      });
    } else {
      const entry = 12 + 16 * index;
      const [checksum = 0, start = 0, length = 0] = [4, 8, 12].map((at) =>
        view.getUint32(entry + at),
      );
      tables.set(tagAt(view, entry), { bytes: bytes.subarray(start, start + length), checksum });
    }
  }
  return tables;
}

const padded = (length: number): number => Math.ceil(length / 4) * 4;

/** A file of tables: the directory, then the tables, each from a multiple of four. */
function fileOf(tables: readonly (readonly [tag: string, table: FontTable])[]): Uint8Array {
  const power = Math.floor(Math.log2(tables.length));
  let start = 12 + 16 * tables.length;
  const length = tables.reduce((sum, [, { bytes }]) => sum + padded(bytes.length), start);
  const file = new Uint8Array(length);
  const view = viewOf(file);
  view.setUint32(0, 0x10000);
  for (const [index, value] of [
    tables.length,
    2 ** power * 16,
    power,
    (tables.length - 2 ** power) * 16,
  ].entries())
    view.setUint16(4 + 2 * index, value);
  for (const [index, [tag, { bytes, checksum }]] of tables.entries()) {
    const entry = 12 + 16 * index;
    for (let at = 0; at < 4; at++) view.setUint8(entry + at, tag.charCodeAt(at));
    view.setUint32(entry + 4, checksum);
    view.setUint32(entry + 8, start);
    view.setUint32(entry + 12, bytes.length);
    file.set(bytes, start);
    start += padded(bytes.length);
  }
  return file;
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
  const need = (tag: string): DataView => {
    const table = tables.get(tag);
    if (table === undefined) throw new Error(`a font with the table ${tag}`);
    return viewOf(table.bytes);
  };
  const [head, hhea, hmtx] = [need('head'), need('hhea'), need('hmtx')];
  const characters = charactersOf(need('cmap'));
  const metrics = hhea.getUint16(34);
  return {
    unitsPerEm: head.getUint16(18),
    ascent: hhea.getInt16(4),
    descent: hhea.getInt16(6),
    glyphOf: (codePoint) => characters.get(codePoint) ?? 0,
    advanceOf: (glyph) => hmtx.getUint16(4 * Math.min(glyph, metrics - 1)),
    drawing: () => fileOf([...tables].filter(([tag]) => DRAWING_TABLES.includes(tag))),
  };
}
