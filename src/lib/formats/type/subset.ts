/**
 * A TrueType font of a few characters alone, to be carried inside a file. Glyph 0 is the sign for a
 * missing character, glyph i + 1 draws character i. A character that the font lacks gets a copy of
 * the missing sign of its own, so that a PDF can still say which character stands there.
 * Source: OpenType 1.9 ("glyf", "loca", "cmap" format 12, "head").
 */
import type { Font } from './sfnt';

class Bytes {
  readonly #bytes: number[] = [];
  u16(...values: readonly number[]): this {
    for (const value of values) this.#bytes.push((value >> 8) & 255, value & 255);
    return this;
  }
  u32(...values: readonly number[]): this {
    for (const value of values) this.u16(Math.floor(value / 65536) & 0xffff, value & 0xffff);
    return this;
  }
  get done(): Uint8Array {
    return Uint8Array.from(this.#bytes);
  }
}

const viewOf = (bytes: Uint8Array): DataView =>
  new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);

// flags of a part of a composite glyph
const WORDS = 0x1;
const SCALE = 0x8;
const MORE = 0x20;
const SCALES = 0x40;
const MATRIX = 0x80;

/** Where in a composite glyph's bytes the numbers of its parts stand; none in a simple glyph. */
function partsAt(outline: Uint8Array): number[] {
  const view = viewOf(outline);
  if (outline.length === 0 || view.getInt16(0) >= 0) return [];
  const places: number[] = [];
  let at = 10;
  for (let flags = MORE; flags & MORE;) {
    flags = view.getUint16(at);
    places.push(at + 2);
    at += 4 + (flags & WORDS ? 4 : 2);
    at += flags & MATRIX ? 8 : flags & SCALES ? 4 : flags & SCALE ? 2 : 0;
  }
  return places;
}

/** The glyphs of the new font: the old font's numbers, parts of composites after the characters. */
function glyphsFor(font: Font, codePoints: readonly number[]): number[] {
  const glyphs = [0, ...codePoints.map((code) => font.glyphOf(code))];
  for (let index = 0; index < glyphs.length; index++) {
    const outline = font.outlineOf(glyphs[index] ?? 0);
    for (const at of partsAt(outline)) {
      const part = viewOf(outline).getUint16(at);
      if (!glyphs.includes(part)) glyphs.push(part);
    }
  }
  return glyphs;
}

/** An outline whose parts carry the numbers that they have in the new font. */
function renumbered(outline: Uint8Array, glyphs: readonly number[]): Uint8Array {
  const copy = outline.slice();
  for (const at of partsAt(copy)) {
    const view = viewOf(copy);
    view.setUint16(at, glyphs.indexOf(view.getUint16(at)));
  }
  return copy;
}

const padded = (length: number): number => Math.ceil(length / 4) * 4;

function joined(parts: readonly Uint8Array[]): Uint8Array {
  const whole = new Uint8Array(parts.reduce((sum, part) => sum + padded(part.length), 0));
  let at = 0;
  for (const part of parts) {
    whole.set(part, at);
    at += padded(part.length);
  }
  return whole;
}

/** A table of the old font, perhaps with one 16-bit number in it changed. */
function kept(font: Font, tag: string, at?: number, value = 0): Uint8Array {
  const table = font.table(tag);
  if (table === undefined) throw new Error(`a font with the table ${tag}`);
  const copy = table.slice();
  if (at !== undefined) viewOf(copy).setUint16(at, value);
  return copy;
}

function characterMap(codePoints: readonly number[]): Uint8Array {
  // groups stand in the order of their characters, whatever the order of the glyphs
  const coded = codePoints
    .map((code, index) => [code, index + 1] as const)
    .sort((a, b) => a[0] - b[0]);
  const map = new Bytes().u16(0, 1, 3, 10).u32(12).u16(12, 0);
  map.u32(16 + 12 * coded.length, 0, coded.length);
  for (const [code, glyph] of coded) map.u32(code, code, glyph);
  return map.done;
}

/** A file of tables: the directory with checksums, then the tables, each from a multiple of four. */
function file(tables: Readonly<Record<string, Uint8Array>>): Uint8Array {
  const tags = Object.keys(tables).sort();
  const power = 2 ** Math.floor(Math.log2(tags.length));
  const head = new Bytes().u32(0x10000);
  head.u16(tags.length, power * 16, Math.log2(power), (tags.length - power) * 16);
  let start = 12 + 16 * tags.length;
  for (const tag of tags) {
    const table = tables[tag] ?? new Uint8Array();
    const whole = viewOf(joined([table]));
    let sum = 0;
    for (let at = 0; at < whole.byteLength; at += 4) sum = (sum + whole.getUint32(at)) >>> 0;
    head.u16(...[0, 2].map((at) => (tag.charCodeAt(at) << 8) | tag.charCodeAt(at + 1)));
    head.u32(sum, start, table.length);
    start += padded(table.length);
  }
  return joined([head.done, ...tags.map((tag) => tables[tag] ?? new Uint8Array())]);
}

export function subsetOf(font: Font, codePoints: readonly number[]): Uint8Array {
  const glyphs = glyphsFor(font, codePoints);
  const outlines = glyphs.map((glyph) => renumbered(font.outlineOf(glyph), glyphs));
  const places = new Bytes().u32(0);
  let end = 0;
  for (const outline of outlines) places.u32((end += padded(outline.length)));
  const metrics = new Bytes();
  for (const [index, glyph] of glyphs.entries()) {
    const outline = outlines[index] ?? new Uint8Array();
    metrics.u16(font.advanceOf(glyph), outline.length === 0 ? 0 : viewOf(outline).getInt16(2));
  }
  const post = new Bytes().u32(0x30000, 0).u16(-75, 50).u32(0, 0, 0, 0, 0);
  return file({
    'OS/2': kept(font, 'OS/2'),
    cmap: characterMap(codePoints),
    glyf: joined(outlines),
    // places are written in 32 bits
    head: kept(font, 'head', 50, 1),
    hhea: kept(font, 'hhea', 34, glyphs.length),
    hmtx: metrics.done,
    loca: places.done,
    maxp: kept(font, 'maxp', 4, glyphs.length),
    name: kept(font, 'name'),
    post: post.done,
  });
}
