/**
 * Draws the signs that the text face lacks (♯ ♭ ♮ 𝄪 𝄫 Δ) and writes them as two small fonts, one
 * for text weight and one for bold: `node src/lib/formats/type/makeSigns.mjs`. Lengths are in font units,
 * 1000 to the em; y runs upwards from the baseline. The shapes are our own.
 */
import { writeFileSync } from 'node:fs';

/** A corner; with `off`, the control point of a quadratic curve. */
const at = (x, y) => ({ x: Math.round(x), y: Math.round(y), on: 1 });
const off = (x, y) => ({ x: Math.round(x), y: Math.round(y), on: 0 });
/** Outlines run clockwise, holes the other way. */
const box = (x1, y1, x2, y2) => [at(x1, y1), at(x1, y2), at(x2, y2), at(x2, y1)];
/** A stroke `high` units thick that climbs by `rise` on its way to the right. */
const slope = (x1, x2, y, rise, high) => [
  at(x1, y - high / 2),
  at(x1, y + high / 2),
  at(x2, y + rise + high / 2),
  at(x2, y + rise - high / 2),
];

function sharp(t) {
  const beam = t * 1.35;
  return {
    code: 0x266f,
    advance: 540,
    outlines: [
      box(178 - t / 2, -90, 178 + t / 2, 690),
      box(362 - t / 2, -10, 362 + t / 2, 770),
      slope(70, 470, 190, 80, beam),
      slope(70, 470, 430, 80, beam),
    ],
  };
}

const flatAt = (x, t) => [
  box(x, 0, x + t, 790),
  [
    at(x, -12),
    at(x, 330),
    off(x + 80, 450),
    at(x + 205, 450),
    off(x + 350, 450),
    at(x + 350, 310),
    off(x + 350, 150),
  ],
  [
    at(x + t, 82 + t * 0.3),
    off(x + 350 - t * 1.2, 190),
    at(x + 350 - t * 1.2, 300),
    off(x + 350 - t * 1.2, 450 - t),
    at(x + 190, 450 - t),
    off(x + 115, 450 - t),
    at(x + t, 300),
  ],
];
const flat = (t) => ({ code: 0x266d, advance: 500, outlines: flatAt(90, t) });
const doubleFlat = (t) => ({
  code: 0x1d12b,
  advance: 850,
  outlines: [...flatAt(80, t), ...flatAt(430, t)],
});

function natural(t) {
  const beam = t * 1.2;
  const [left, right] = [90, 430];
  return {
    code: 0x266e,
    advance: 520,
    outlines: [
      box(left, 140 - beam / 2, left + t, 770),
      box(right - t, -90, right, 510 + beam / 2),
      slope(left, right, 140, 70, beam),
      slope(left, right, 440, 70, beam),
    ],
  };
}

function doubleSharp(t) {
  const r = t * 0.55;
  const [x1, x2, y1, y2] = [90, 430, 150, 490];
  return {
    code: 0x1d12a,
    advance: 520,
    outlines: [
      [at(x1 - r, y1 + r), at(x2 - r, y2 + r), at(x2 + r, y2 - r), at(x1 + r, y1 - r)],
      [at(x1 - r, y2 - r), at(x1 + r, y2 + r), at(x2 + r, y1 + r), at(x2 - r, y1 - r)],
    ],
  };
}

const delta = (t) => ({
  code: 0x394,
  advance: 640,
  outlines: [
    [at(40, 0), at(320 - t * 0.35, 668), at(320 + t * 0.35, 668), at(600, 0)],
    [at(40 + t * 1.6, t), at(600 - t * 1.6, t), at(320, 668 - t * 1.9)],
  ],
});

const u16 = (...n) => Buffer.from(n.flatMap((v) => [(v >> 8) & 255, v & 255]));
const u32 = (...n) => Buffer.concat(n.map((v) => u16(Math.floor(v / 65536) & 65535, v & 65535)));
const padded = (bytes) => Buffer.concat([bytes, Buffer.alloc((4 - (bytes.length % 4)) % 4)]);

const boundsOf = (points) => [
  Math.min(...points.map((p) => p.x)),
  Math.min(...points.map((p) => p.y)),
  Math.max(...points.map((p) => p.x)),
  Math.max(...points.map((p) => p.y)),
];

/** One entry of the `glyf` table, coordinates as plain 16-bit steps. */
function glyphBytes(outlines) {
  const points = outlines.flat();
  let count = 0;
  const ends = outlines.map((outline) => (count += outline.length) - 1);
  const steps = (axis) => u16(...points.map((p, i) => p[axis] - (points[i - 1]?.[axis] ?? 0)));
  return padded(
    Buffer.concat([
      u16(outlines.length, ...boundsOf(points), ...ends, 0),
      Buffer.from(points.map((p) => p.on)),
      steps('x'),
      steps('y'),
    ]),
  );
}

function nameTable(family, style) {
  const texts = [
    [1, family],
    [2, style],
    [3, `${family} ${style}`],
    [4, `${family} ${style}`],
    [5, 'Version 1.000'],
    [6, `${family.replaceAll(' ', '')}-${style}`],
  ];
  const bytes = texts.map(([, text]) => u16(...[...text].map((c) => c.codePointAt(0))));
  let start = 0;
  const records = texts.map(([id], i) => {
    const record = u16(3, 1, 0x409, id, bytes[i].length, start);
    start += bytes[i].length;
    return record;
  });
  return Buffer.concat([u16(0, texts.length, 6 + 12 * texts.length), ...records, ...bytes]);
}

/** A TrueType file (OpenType 1.9, "Required tables") from drawn signs. */
function fontBytes(signs, family, style, weight) {
  const glyphs = [
    { code: 0, advance: 500, outlines: [box(60, 0, 440, 668), box(60, 0, 440, 668).reverse()] },
    ...signs.toSorted((a, b) => a.code - b.code),
  ];
  const bold = weight >= 600;
  const drawn = glyphs.map((g) => glyphBytes(g.outlines));
  let offset = 0;
  const offsets = [0, ...drawn.map((bytes) => (offset += bytes.length))];
  const bounds = boundsOf(glyphs.flatMap((g) => g.outlines.flat()));
  const widest = Math.max(...glyphs.map((g) => g.advance));
  const coded = glyphs.slice(1).map((g, i) => u32(g.code, g.code, i + 1));
  const [ascent, descent] = [950, -250];
  const tables = {
    'OS/2': Buffer.concat([
      u16(4, 540, weight, 5, 0, 650, 600, 0, 75, 650, 600, 0, 350, 50, 250, 0),
      Buffer.alloc(10),
      u32(0, 0, 0, 0),
      Buffer.from('GRIP'),
      u16(bold ? 0x20 : 0x40, 0x394, 0xffff, ascent, descent, 0, ascent, -descent),
      u32(0, 0),
      u16(496, 668, 0, 32, 1),
    ]),
    cmap: Buffer.concat([
      u16(0, 1, 3, 10),
      u32(12),
      u16(12, 0),
      u32(16 + 12 * coded.length, 0, coded.length),
      ...coded,
    ]),
    glyf: Buffer.concat(drawn),
    head: Buffer.concat([
      u32(0x10000, 0x10000, 0, 0x5f0f3cf5),
      u16(0b1011, 1000),
      u32(0, 0, 0, 0),
      u16(...bounds, bold ? 1 : 0, 8, 2, 1, 0),
    ]),
    hhea: Buffer.concat([
      u32(0x10000),
      u16(ascent, descent, 0, widest, 0, 0, bounds[2], 1, 0, 0, 0, 0, 0, 0, 0, glyphs.length),
    ]),
    hmtx: u16(...glyphs.flatMap((g) => [g.advance, boundsOf(g.outlines.flat())[0]])),
    loca: u32(...offsets),
    maxp: Buffer.concat([
      u32(0x10000),
      u16(glyphs.length, Math.max(...glyphs.map((g) => g.outlines.flat().length))),
      u16(Math.max(...glyphs.map((g) => g.outlines.length)), 0, 0, 2, 0, 0, 0, 0, 0, 0, 0, 0),
    ]),
    name: nameTable(family, style),
    post: Buffer.concat([u32(0x30000, 0), u16(-75, 50), u32(0, 0, 0, 0, 0)]),
  };
  const tags = Object.keys(tables);
  const sum = (bytes) => {
    const whole = padded(bytes);
    let total = 0;
    for (let i = 0; i < whole.length; i += 4) total = (total + whole.readUInt32BE(i)) >>> 0;
    return total;
  };
  const power = 2 ** Math.floor(Math.log2(tags.length));
  const header = Buffer.concat([
    u32(0x10000),
    u16(tags.length, power * 16, Math.log2(power), (tags.length - power) * 16),
  ]);
  let start = header.length + 16 * tags.length;
  const directory = tags.map((tag) => {
    const bytes = tables[tag];
    const entry = Buffer.concat([Buffer.from(tag), u32(sum(bytes), start, bytes.length)]);
    start += padded(bytes).length;
    return entry;
  });
  const file = Buffer.concat([header, ...directory, ...tags.map((tag) => padded(tables[tag]))]);
  const headAt = Number(directory[tags.indexOf('head')].readUInt32BE(8));
  file.writeUInt32BE((0xb1b0afba - sum(file)) >>> 0, headAt + 8);
  return file;
}

for (const [style, weight, stem] of [
  ['Regular', 400, 68],
  ['Bold', 700, 96],
]) {
  const signs = [sharp, flat, natural, doubleSharp, doubleFlat, delta].map((draw) => draw(stem));
  const file = new URL(`./signs-${style.toLowerCase()}.ttf`, import.meta.url);
  writeFileSync(file, fontBytes(signs, 'Gripwright Signs', style, weight));
}
