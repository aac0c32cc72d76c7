/** Wishes that name measures, as text, after the measures have moved: of notes, of textures, of strikes. */
import type { WishTexts } from './wishParts';

/** Where a measure stands now, by its number before, from 1; nothing where it is gone. */
type Moving = (measure: number) => number | undefined;

/** `5-8`, `5`, or a single note's `5:2.5`; what names no measure is kept as it is. */
function movedItem(item: string, to: Moving): string | undefined {
  const [, first, last, beat = '', rest = ''] =
    /^\s*(\d+)(?:\s*-\s*(\d+))?(:[\d.]+)?\s*(=.*)$/su.exec(item) ?? [];
  if (first === undefined) return item;
  const from = Number(first);
  const until = Number(last ?? first);
  const own = Array.from({ length: until - from + 1 }, (_, each) => to(from + each)).filter(
    (each) => each !== undefined,
  );
  if (own.length === 0) return undefined;
  const [low, high] = [Math.min(...own), Math.max(...own)];
  return `${low}${low === high ? '' : `-${high}`}${beat}${rest}`;
}

const moved = (text: string, to: Moving): string =>
  text
    .split(';')
    .map((item) => movedItem(item, to))
    .filter((item) => item !== undefined)
    .join(';');

/** The parts that name measures, as they are to be now; the same object where nothing is said of measures. */
export function movedPlaces(texts: WishTexts, to: Moving): WishTexts {
  const parts = (['measures', 'notes', 'strike'] as const).flatMap((part) => {
    const text = texts[part];
    if (text === undefined || text === '') return [];
    const now = moved(text, to);
    return now === text ? [] : [[part, now] as const];
  });
  return parts.length === 0 ? texts : { ...texts, ...Object.fromEntries(parts) };
}
