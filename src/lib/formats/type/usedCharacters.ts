/** Which characters of which font a drawing needs. */
import type { Drawing } from '../drawing';
import { runsOf, type Weight } from './faces';

/** By the font's index in the row of a weight: the code points used of it, ascending. */
export function charactersOf(drawing: Drawing, weight: Weight): Map<number, number[]> {
  const used = new Map<number, Set<number>>();
  for (const page of drawing.pages)
    for (const mark of page.marks)
      if (mark.kind === 'text' && mark.weight === weight)
        for (const { font, text } of runsOf(mark.text, weight)) {
          const codes = used.get(font) ?? new Set<number>();
          for (const sign of text) codes.add(sign.codePointAt(0) ?? 0);
          used.set(font, codes);
        }
  return new Map([...used].map(([font, codes]) => [font, [...codes].sort((a, b) => a - b)]));
}
