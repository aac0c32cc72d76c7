/**
 * A drawing as SVG 1.1 text: type stays type, so that it can be selected, searched and read aloud.
 * A file carries the fonts that it uses; inside the page the page's own face serves.
 */
import { MM_PER_POINT, lineOf, type Drawing, type Mark, type Page } from './drawing';
import { escapeXml } from './escapeXml';
import { fontsOf, type Weight } from './type/faces';
import { charactersOf } from './type/usedCharacters';

const number = (value: number): string => String(Math.round(value * 1000) / 1000);
const grey = (ink: number): string => {
  const level = Math.round(255 * (1 - ink));
  return `#${level.toString(16).padStart(2, '0').repeat(3)}`;
};

function markSvg(mark: Mark): string {
  switch (mark.kind) {
    case 'text': {
      const { x, y, text, sizePt, weight, align, ink } = mark;
      const set = [
        `x="${number(x)}" y="${number(y)}" font-size="${number(sizePt * MM_PER_POINT)}"`,
        ...(weight === 'bold' ? ['font-weight="700"'] : []),
        ...(align === 'start' ? [] : [`text-anchor="${align}"`]),
        ...(ink === 1 ? [] : [`fill="${grey(ink)}"`]),
      ];
      return `<text ${set.join(' ')}>${escapeXml(text)}</text>`;
    }
    case 'line': {
      const [[x1, y1], [x2, y2]] = [mark.from, mark.to];
      return `<line x1="${number(x1)}" y1="${number(y1)}" x2="${number(x2)}" y2="${number(y2)}" stroke="${grey(mark.ink)}" stroke-width="${number(mark.widthMm)}"/>`;
    }
    case 'box':
      return `<rect x="${number(mark.x)}" y="${number(mark.y)}" width="${number(mark.width)}" height="${number(mark.height)}" fill="${grey(mark.fill)}"/>`;
    case 'path':
      return `<path d="${mark.steps.map(([sign, ...at]) => `${sign}${at.map(number).join(' ')}`).join('')}" fill="${grey(mark.fill)}"/>`;
    case 'disc':
      return `<circle cx="${number(mark.x)}" cy="${number(mark.y)}" r="${number(mark.radius)}" fill="${grey(mark.fill)}"/>`;
  }
}

const pageMarks = ({ width, height, marks }: Page): string =>
  [
    `<rect width="${number(width)}" height="${number(height)}" fill="#ffffff"/>`,
    ...marks.map(markSvg),
  ].join('\n');

// what the widths were measured with: no kerning, no other figures
const SETTING = 'font-kerning:none;font-variant-numeric:normal;font-variant-ligatures:none';

/** One page as an `svg` element for the page of the program, in whose own face it is set. */
export function pageSvg(page: Page, title: string): string {
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${number(page.width)} ${number(page.height)}" width="${number(page.width)}mm" height="${number(page.height)}mm" fill="#000000" style="${SETTING}">`,
    `<title>${escapeXml(lineOf(title))}</title>`,
    pageMarks(page),
    '</svg>',
  ].join('\n');
}

/** The fonts of a drawing; a character that they lack is left to those of whoever opens the file. */
function fontFaces(drawing: Drawing): { rules: string; families: string } {
  const rules: string[] = [];
  const families = new Set<string>();
  for (const weight of ['regular', 'bold'] as const satisfies readonly Weight[])
    for (const fontIndex of charactersOf(drawing, weight).keys()) {
      const font = fontsOf(weight)[fontIndex];
      if (font === undefined) continue;
      const family = `Sheet ${fontIndex + 1}`;
      families.add(`'${family}'`);
      rules.push(
        `@font-face{font-family:'${family}';font-weight:${weight === 'bold' ? 700 : 400};src:url(${font.dataUrl})}`,
      );
    }
  return { rules: rules.join('\n'), families: [...families, 'sans-serif'].join(',') };
}

/** The whole drawing as a file; several pages stand under one another. */
export function svgText(drawing: Drawing): string {
  const width = Math.max(0, ...drawing.pages.map((page) => page.width));
  const height = drawing.pages.reduce((sum, page) => sum + page.height, 0);
  const { rules, families } = fontFaces(drawing);
  let top = 0;
  const pages = drawing.pages.map((page) => {
    const group = `<g transform="translate(0 ${number(top)})">\n${pageMarks(page)}\n</g>`;
    top += page.height;
    return group;
  });
  return [
    '<?xml version="1.0" encoding="UTF-8"?>',
    `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${number(width)} ${number(height)}" width="${number(width)}mm" height="${number(height)}mm" fill="#000000" font-family="${families}" style="${SETTING}">`,
    `<title>${escapeXml(lineOf(drawing.title))}</title>`,
    `<style>${rules}</style>`,
    ...pages,
    '</svg>',
    '',
  ].join('\n');
}
