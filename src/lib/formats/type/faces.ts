/**
 * The two weights that paper is set in, each a row of fonts: the text face (SIL Open Font License),
 * our own musical signs, and the text face's further Latin letters. They come as data inside the
 * module, so that a sheet is drawn the same in a browser without a network and on the command line.
 */
import boldExt from '@fontsource/atkinson-hyperlegible-next/files/atkinson-hyperlegible-next-latin-ext-700-normal.woff?inline';
import bold from '@fontsource/atkinson-hyperlegible-next/files/atkinson-hyperlegible-next-latin-700-normal.woff?inline';
import regularExt from '@fontsource/atkinson-hyperlegible-next/files/atkinson-hyperlegible-next-latin-ext-400-normal.woff?inline';
import regular from '@fontsource/atkinson-hyperlegible-next/files/atkinson-hyperlegible-next-latin-400-normal.woff?inline';
import boldSigns from './signs-bold.ttf?inline';
import regularSigns from './signs-regular.ttf?inline';
import { readFont, type Font } from './sfnt';

export type Weight = 'regular' | 'bold';

const DATA: Readonly<Record<Weight, readonly string[]>> = {
  regular: [regular, regularSigns, regularExt],
  bold: [bold, boldSigns, boldExt],
};

function bytesOf(dataUrl: string): Uint8Array {
  const text = atob(dataUrl.slice(dataUrl.indexOf(',') + 1));
  return Uint8Array.from(text, (sign) => sign.charCodeAt(0));
}

/** A font that paper is set in. */
export interface PaperFont extends Font {
  /** The whole font file, WOFF or TrueType, as a `data:` address. */
  readonly dataUrl: string;
}

const read = new Map<Weight, readonly PaperFont[]>();

/** The fonts of a weight, the one to prefer first; read once, then remembered. */
export function fontsOf(weight: Weight): readonly PaperFont[] {
  let fonts = read.get(weight);
  if (fonts === undefined) {
    fonts = DATA[weight].map((dataUrl) => ({ ...readFont(bytesOf(dataUrl)), dataUrl }));
    read.set(weight, fonts);
  }
  return fonts;
}

/** A piece of a text that one font can set. */
export interface Run {
  /** The font's index in its weight's row. */
  readonly font: number;
  readonly text: string;
}

/**
 * A text in pieces by font; what none of them has stays with the first, which shows that a
 * character is missing.
 */
export function runsOf(text: string, weight: Weight): Run[] {
  const fonts = fontsOf(weight);
  const runs: { font: number; text: string }[] = [];
  for (const sign of text) {
    const code = sign.codePointAt(0) ?? 0;
    const font = Math.max(
      0,
      fonts.findIndex((each) => each.glyphOf(code) !== 0),
    );
    const last = runs.at(-1);
    if (last?.font === font) last.text += sign;
    else runs.push({ font, text: sign });
  }
  return runs;
}

/** How wide a text is when set at a size, both in points. */
export function widthPt(text: string, sizePt: number, weight: Weight): number {
  const fonts = fontsOf(weight);
  let width = 0;
  for (const run of runsOf(text, weight)) {
    const font = fonts[run.font];
    if (font === undefined) continue;
    for (const sign of run.text)
      width += font.advanceOf(font.glyphOf(sign.codePointAt(0) ?? 0)) / font.unitsPerEm;
  }
  return width * sizePt;
}
