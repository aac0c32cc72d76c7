/** Where the letters of a picture show first: one spot for each font that it is set in. */
import type { Page } from '$lib/formats/drawing';
import { MM_PER_POINT } from '$lib/formats/drawing';
import { fontsOf, runsOf } from '$lib/formats/type/faces';
import { widthMm } from '$lib/formats/type/setting';

/** In millimetres from the top left corner. */
export interface Spot {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** A spot with letters for each font of each weight that a page uses. */
export function letterSpots({ marks }: Page): readonly Spot[] {
  const spots = new Map<string, Spot>();
  for (const mark of marks) {
    if (mark.kind !== 'text') continue;
    const { weight, sizePt, align } = mark;
    const fonts = fontsOf(weight);
    const whole = widthMm(mark.text, sizePt, weight);
    let x = mark.x - (align === 'end' ? whole : align === 'middle' ? whole / 2 : 0);
    for (const { font, text } of runsOf(mark.text, weight)) {
      const width = widthMm(text, sizePt, weight);
      const height = sizePt * MM_PER_POINT;
      const isSet = [...text].some(
        (sign) => sign.trim() !== '' && fonts[font]?.glyphOf(sign.codePointAt(0) ?? 0) !== 0,
      );
      const key = `${weight} ${font}`;
      if (isSet && !spots.has(key)) spots.set(key, { x, y: mark.y - height, width, height });
      x += width;
    }
  }
  return [...spots.values()];
}
